/** What is wrong on the sheets as sentences that name the panels. */
import type { NestFault } from './check';
import { plainIdOf } from './fromPanels';
import type { NestPanel } from './types';

/** More sentences than this are counted only. */
const mostSentences = 4;

type FaultKind = NestFault['kind'];

interface SaidFault {
  readonly kind: FaultKind;
  /** One copy or two, as "panel#copy". */
  readonly copies: readonly string[];
}

/**
 * The faults in words, one sentence each, those that lie on each other first; what is over `mostSentences` is counted.
 * @param panels whose names, copies and mirrored twins the words tell apart
 */
export function faultSentences(
  faults: readonly SaidFault[],
  panels: readonly Pick<NestPanel, 'id' | 'name' | 'quantity'>[],
): string {
  const byId = new Map(panels.map((p) => [p.id, p]));
  const nameOf = (key: string): string => {
    const [id, copy] = [key.slice(0, key.lastIndexOf('#')), Number(key.slice(key.lastIndexOf('#') + 1))];
    const panel = byId.get(id);
    const plain = plainIdOf(id);
    const name = panel?.name ?? plain;
    const more = [
      ...(plain === id ? [] : ['mirrored']),
      ...((panel?.quantity ?? 1) > 1 ? [`copy ${copy + 1}`] : []),
    ];
    return more.length > 0 ? `${name} (${more.join(', ')})` : name;
  };
  const worst = [...faults].sort((p, q) => order.indexOf(p.kind) - order.indexOf(q.kind));
  const said = worst.slice(0, mostSentences).map(({ kind, copies }) => {
    const names = copies.map(nameOf);
    return `${names.length > 1 ? `Panels ${names.join(' and ')}` : `Panel ${names[0]}`} ${words[kind]}.`;
  });
  const left = worst.length - said.length;
  return [
    ...said,
    ...(left > 0 ? [`${left} more ${left === 1 ? 'place is' : 'places are'} wrong.`] : []),
  ].join(' ');
}

const words: Readonly<Record<FaultKind, string>> = {
  overlap: 'lie on each other',
  outside: 'sticks out of its sheet',
  gap: 'lie too near to each other',
  margin: 'lies too near to the rim of its sheet',
  turn: 'is turned in a way that its turns do not allow',
  mirror: 'is turned over and must not be',
  sheet: 'lies on a sheet that is not there, or of another foam',
  twice: 'lies there twice',
  missing: 'has no place',
};

const order: readonly FaultKind[] = [
  ...(['overlap', 'outside', 'gap', 'margin'] as const),
  ...(['turn', 'mirror', 'sheet', 'twice', 'missing'] as const),
];
