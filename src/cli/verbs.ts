import type { OptionSpec, VerbSpec } from './arguments';

const unit: OptionSpec = {
  value: '90',
  help: 'size of drawings that state none: units per inch (96, 90, 72), or the unit itself (mm, cm, in, pt, px)',
};
const project: OptionSpec = {
  value: 'FILE',
  help: 'a saved project: its pattern and decisions (a pattern given as well takes the place of its own)',
};

export const inspectVerb: VerbSpec = {
  verb: 'inspect',
  summary: 'prints what was read, paired and folded up',
  options: {
    json: { value: '', help: 'as JSON; without it, a summary in words' },
    lines: {
      value: '',
      help: 'with --json: every drawn line too, flattened to 0.05 mm, before any interpretation',
    },
    'no-shell': { value: '', help: 'leave the shell out; the seams are the same' },
    unit,
    project,
  },
};

export const makeVerb: VerbSpec = {
  verb: 'make',
  summary:
    'runs the whole job and writes pages.pdf, panels.svg, panels.dxf, build.pdf, pattern.fold, report.json, for a head band.pdf, and the files of sheets',
  options: {
    out: { value: 'FOLDER', help: 'where the files go; made when missing' },
    archive: { value: '', help: 'all files as one zip archive too, with the project in it' },
    troupe: {
      value: 'TABLE.csv',
      help: 'a folder for every wearer of a table (name, girth, length, breadth, height), and shared sheets',
    },
    scale: { value: '97%', help: 'size by a scale' },
    head: { value: '58cm', help: 'size by the head girth, measured on the folded shell' },
    'pattern-girth': {
      value: '640mm',
      help: 'girth of the pattern as drawn, where the head goes; without it the shell is measured',
    },
    brow: {
      value: '0.62',
      help: 'height of the brow section on the folded shell, as a part of its height',
    },
    known: { value: '120mm=135mm', help: 'size by a length on the pattern and what it shall be' },
    ease: { value: '8mm', help: 'room between head and foam, padding included' },
    foam: { value: '5mm', help: 'thickness of the foam' },
    'stands-for': {
      value: 'outside',
      help: 'which side of the foam the paper is: outside, middle or inside',
    },
    seam: { value: 'bevel', help: 'how seams are cut: bevel or square' },
    kerf: { value: '0mm', help: 'width that the cutter removes' },
    trace: { value: 'outside', help: 'face that is drawn on the foam: outside or inside' },
    page: { value: 'A4', help: 'A4, A3, Letter, Legal, Tabloid or a size such as 210x297mm' },
    margin: { value: '8mm', help: 'unprinted border of a page' },
    overlap: { value: '10mm', help: 'what neighbouring pages share' },
    sheet: {
      value: '600x900mm',
      help: 'lay the panels on sheets of foam of this size, as many as it takes; each is written as SVG and DXF, all on pages as sheets.pdf',
    },
    gap: { value: '3mm', help: 'with sheets: free foam between two panels' },
    seed: { value: '1', help: 'start of the search for places on sheets' },
    unit,
    project,
  },
};

const verbs = [inspectVerb, makeVerb];

/** The help of both verbs. */
export function helpText(): string {
  const line = (name: string, option: OptionSpec) => {
    const left = `  --${name}${option.value ? ` ${option.value}` : ''}`;
    return `${left.padEnd(28)}${option.help}`;
  };
  const verbHelp = (v: VerbSpec) =>
    [
      `girthwise ${v.verb} PATTERN.svg …${v === makeVerb ? ' --out FOLDER' : ''}`,
      `  ${v.summary}`,
      ...Object.entries(v.options).map(([name, option]) => line(name, option)),
    ].join('\n');
  return [
    'Girthwise: from an unfolded paper pattern to foam panels that fit one wearer.',
    '',
    verbs.map(verbHelp).join('\n\n'),
    '',
    'Several files are pages of one pattern. Lengths take a unit (mm, cm, in, pt). Results go to standard output,',
    'findings to standard error. Exit status: 0 when the work was done, 1 when it could not be, 2 when the command',
    'line was wrong.',
    '',
  ].join('\n');
}
