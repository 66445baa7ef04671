/**
 * A troupe: the same pattern made for each wearer of a table, every one in a folder of their own, and all their panels
 * nested together on shared sheets of foam.
 */
import { Cancelled, fail, type Issue, type Outcome, succeed, type Work } from '../base';
import { type LetteringFont, markPanels } from '../marks';
import type { Decisions, FoamResult, MarkedPanels, Panel, ProjectDocument, Results, Wearer } from '../model';
import { saveProject } from '../project';
import { placesOfWearers, wearerIssues, writeTroupe } from '../troupe';
import { makeAllFiles, type NamedFile } from './archive';
import { stopped } from './faults';
import { cutFoam, onlyListed } from './files';
import { formatPercent } from './mapContext';
import { sharedSheets } from './sharedSheets';

/** Computes all results of a document; the pipeline's `run`. */
export type RunDocument = (document: ProjectDocument, work: Work) => Promise<Results>;

/** What came of one wearer. */
interface Made {
  readonly wearer: Wearer;
  readonly place: string;
  readonly results: Results;
  readonly files: readonly NamedFile[];
  readonly marked: MarkedPanels;
  readonly panels: readonly Panel[];
}

/** The files of a troupe, in a fixed order, each with its path. */
export interface TroupeFiles {
  readonly files: readonly NamedFile[];
  /** How many wearers there are files for. */
  readonly made: number;
}

/**
 * Makes every wearer's files, one after the other; a wearer for whom that fails is named in the issues and costs the
 * others nothing. The same document gives the same bytes.
 * @returns refused when there is no wearer, or nothing could be made for anyone
 * @throws Cancelled through `work`
 */
export async function makeTroupe(
  document: ProjectDocument,
  run: RunDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<TroupeFiles>> {
  const { wearers } = document.decisions.troupe;
  if (wearers.length === 0)
    return fail(
      trouble('troupe-empty', 'There is nobody in the table.', 'Type or import the wearers first.'),
    );
  const { fileStem } = await import('../output');
  const places = placesOfWearers(wearers, fileStem);
  const found = wearerIssues(wearers, document.lengthUnit);
  const issues: Issue[] = [...found];
  const made: Made[] = [];
  // One share of the progress for each wearer, and one for the shared sheets.
  const shares = wearers.length + 1;
  for (const [i, wearer] of wearers.entries()) {
    if (found.some((issue) => issue.severity === 'error' && issue.place.ids?.includes(wearer.id))) continue;
    const part = partOfWork(work, i, shares, wearer.name);
    try {
      const one = await makeOne(wearer, places.get(wearer.id)!, document, run, lettering, part);
      issues.push(...one.issues.map((issue) => about(wearer, issue)));
      if (one.ok) made.push(one.value);
    } catch (error) {
      if (error instanceof Cancelled) throw error;
      issues.push(about(wearer, stopped('output', error)));
    }
  }
  if (made.length === 0)
    return fail(
      ...issues,
      trouble(
        'troupe-none-made',
        'Nothing could be made for anybody in the table.',
        'Look at what is said of each wearer.',
      ),
    );
  const shared = await sharedSheets(
    made.map(({ place, marked, panels }) => ({ place, marked, panels })),
    document,
    lettering,
    partOfWork(work, wearers.length, shares, 'Shared sheets'),
  );
  issues.push(...shared.issues);
  const folder = fileStem(document.title);
  return succeed(
    {
      made: made.length,
      files: [
        ...made.flatMap(({ place, files }) => files.map((f) => ({ ...f, name: `${place}/${f.name}` }))),
        ...shared.files.map((f) => ({ ...f, name: `shared-sheets/${f.name}` })),
        { name: 'troupe.csv', content: writeTroupe(wearers, document.lengthUnit) },
        { name: 'overview.csv', content: overview(made) },
        ...(issues.length > 0 ? [{ name: 'findings.txt', content: findings(issues) }] : []),
        { name: `${folder}.girthwise.json`, content: saveProject(document) },
      ],
    },
    issues,
  );
}

/** All of it as one zip archive. */
export async function makeTroupeArchive(
  document: ProjectDocument,
  run: RunDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const troupe = await makeTroupe(document, run, lettering, work);
  if (!troupe.ok) return troupe;
  const { fileStem, writeArchive } = await import('../output');
  const folder = `${fileStem(document.title)}-troupe`;
  return succeed(
    writeArchive(troupe.value.files.map((f) => ({ ...f, name: `${folder}/${f.name}` }))),
    troupe.issues,
  );
}

/** The document for one wearer: their name in the title, their head in the fit. */
export function documentFor(document: ProjectDocument, wearer: Wearer): ProjectDocument {
  const { girth, length, breadth, height } = wearer;
  const three = length !== null || breadth !== null || height !== null;
  const decisions: Decisions = {
    ...document.decisions,
    fit: {
      ...document.decisions.fit,
      how: three ? 'measures' : 'head',
      head: girth,
      headEnteredAs: 'tape',
      measures: { length, breadth, height },
    },
    troupe: { wearers: [] },
    // Sheets that are laid out hold one wearer's panels.
    sheets: { ...document.decisions.sheets, laid: null },
  };
  return { ...document, title: `${document.title}, ${wearer.name.trim()}`, decisions };
}

async function makeOne(
  wearer: Wearer,
  place: string,
  document: ProjectDocument,
  run: RunDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Made>> {
  const own = documentFor(document, wearer);
  const results = await run(own, work);
  const wrong = results.issues.filter((i) => i.severity === 'error');
  if (results.fit && results.fit.patternGirth === null)
    return fail(
      ...wrong,
      trouble(
        'troupe-girth-unknown',
        'nobody knows how far round the pattern goes, so it can’t be sized for a head.',
        'Pair the open edges until the pattern folds up, or give its girth in the Size step.',
      ),
    );
  if (wrong.length > 0) return fail(...wrong);
  const files = await makeAllFiles(results, own, lettering, work);
  if (!files.ok) return files;
  const cut = cutFoam(results, own);
  if (!cut.ok) return cut;
  const named = (foam: FoamResult): FoamResult => ({
    ...foam,
    panels: foam.panels.map((p) => ({ ...p, name: `${wearer.name.trim()}: ${p.name}` })),
  });
  const listed = named(cut.value.listed);
  const whole = markPanels(
    named(cut.value.foam),
    results.recut!.seams,
    document.decisions.marks,
    await lettering(),
  );
  const marked = onlyListed(whole, listed);
  const warnings = [...results.issues, ...files.issues].filter((i) => i.severity === 'warning');
  return succeed({ wearer, place, results, files: files.value, marked, panels: listed.panels }, warnings);
}

/** The issue with the wearer's name before it. */
const about = (wearer: Wearer, issue: Issue): Issue =>
  issue.message.startsWith(`${wearer.name.trim()}: `)
    ? issue
    : {
        ...issue,
        message: `${wearer.name.trim()}: ${issue.message}`,
        place: { ids: [wearer.id, ...(issue.place.ids ?? [])] },
      };

/** One of `shares` equal parts of a work, with who it is for before what is done. */
const partOfWork = (work: Work, part: number, shares: number, who: string): Work => ({
  step: (done, total, what) => {
    const within = total > 0 ? Math.min(1, done / total) : 0;
    return work.step(part + within, shares, `${who}: ${what}`);
  },
});

/** What came of each wearer, one row each. */
function overview(made: readonly Made[]): string {
  const cell = (text: string) => `"${text.replaceAll('"', '""')}"`;
  const rows = made.map(({ wearer, place, results: { fit, pages, build, foam } }) => [
    cell(wearer.name),
    cell(place),
    cell(
      fit
        ? fit.reshaped && fit.shell
          ? Object.values(fit.shell.scales).map(formatPercent).join(' / ')
          : formatPercent(fit.scale)
        : '',
    ),
    String(foam?.panels.length ?? 0),
    String(pages?.pages.length ?? 0),
    (build?.needs.cost ?? 0).toFixed(2),
    (build?.needs.days ?? 0).toFixed(1),
  ]);
  const head = ['wearer', 'folder', 'scale', 'panels', 'pages', 'material', 'days'];
  return `${[head, ...rows].map((r) => r.join(',')).join('\r\n')}\r\n`;
}

const findings = (issues: readonly Issue[]): string =>
  `${issues.map((i) => `${i.severity}: ${i.message}${i.remedy ? ` ${i.remedy}` : ''}`).join('\n')}\n`;

const trouble = (code: string, message: string, remedy: string): Issue => ({
  code,
  severity: 'error',
  stage: 'project',
  message,
  remedy,
  place: {},
});
