import { type Caution, cautions } from '../../../src/model';

interface Props {
  readonly topics: readonly Caution['topic'][];
  /** What they are for, where a screen has two such notes. */
  readonly label?: string;
}

/** Short cautions where the step happens. The wording lives in one place (src/model/cautions.ts). */
export function CautionNote({ topics, label = 'Cautions' }: Props) {
  const shown = cautions.filter((caution) => topics.includes(caution.topic));
  return (
    <section className="caution" aria-label={label}>
      <strong>Take care</strong>
      <ul>
        {shown.map((caution) => (
          <li key={caution.topic}>{caution.text}</li>
        ))}
      </ul>
    </section>
  );
}
