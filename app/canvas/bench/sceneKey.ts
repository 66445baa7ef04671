import type { Session } from '../../document';

/** Everything that the scene of a session's step is made of: while all of it is the same, so is the scene. */
export function sceneKey(session: Session): readonly unknown[] {
  const { step, results, document } = session;
  switch (step) {
    case 'pattern':
    case 'seams':
    case 'size':
      return [step, document !== null, results.drawing, results.pattern, results.seams];
    case 'panels':
      return [step, document !== null, results.recut, session.pickingFaces];
    case 'foam':
    case 'build':
      return [step, document?.decisions.foam.traced, results.recut, results.foam, results.fit?.scale];
    case 'sheets':
      return [
        step,
        document?.lengthUnit,
        document?.decisions.foam.traced,
        results.recut,
        results.foam,
        results.marked,
        results.sheets,
        session.nesting?.plan,
        session.offcut !== null,
        document?.decisions.build.sheet,
      ];
    case 'pages':
      return [step, document !== null, results.recut, results.marked, results.pages];
  }
}

export const sameKey = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((value, i) => Object.is(value, b[i]));
