/** The product's mark: a shell's section with a tape round it. Decoration beside the name. */
export function Mark({ size }: { readonly size: number }) {
  return (
    <svg className="mark" viewBox="0 0 64 64" width={size} height={size} aria-hidden="true">
      <path className="mark-shell" d="M12 47V33a20 20 0 0 1 40 0v14h-8V33a12 12 0 0 0-24 0v14z" />
      <path className="mark-gap" d="M6 40c8 5.5 17 8 26 8s18-2.5 26-8" />
      <path className="mark-tape" d="M6 40c8 5.5 17 8 26 8s18-2.5 26-8" />
      <path
        className="mark-ticks"
        d="M16.5 44.6v-2.8M24.2 47.2v-2.6M32 48v-3.6M39.8 47.2v-2.6M47.5 44.6v-2.8"
      />
    </svg>
  );
}
