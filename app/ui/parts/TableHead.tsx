interface TableHeadProps {
  readonly columns: readonly string[];
  /** Columns of figures. */
  readonly figures?: readonly string[];
  /** Name of a last column of buttons, for those who hear the table. */
  readonly last?: string;
}

/** The head of a table. */
export function TableHead({ columns, figures = [], last }: TableHeadProps) {
  return (
    <thead>
      <tr>
        {columns.map((column) => (
          <th key={column} scope="col" {...(figures.includes(column) ? { className: 'number' } : {})}>
            {column}
          </th>
        ))}
        {last ? (
          <th scope="col">
            <span className="unseen">{last}</span>
          </th>
        ) : null}
      </tr>
    </thead>
  );
}
