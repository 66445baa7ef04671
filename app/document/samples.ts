/** The sample patterns that come with the page. */
import type { TextFile } from './documents';

/** A length round the wearer, named by edges and folds of the drawing. */
export interface SampleMeasure {
  readonly id: string;
  /** "Brow girth". */
  readonly label: string;
  /** Sum of their lengths, mm. */
  readonly length: number;
  /** Middle of each line on the drawing, mm, y up; where the file has no real size, at 96 units an inch. */
  readonly middles: readonly (readonly [number, number])[];
}

export interface Sample {
  readonly id: string;
  readonly title: string;
  readonly sentence: string;
  /** Address of a picture, relative to the samples folder. */
  readonly preview: string;
  /** The same pattern in several manners of drawing; a manner may have several pages. */
  readonly files: readonly {
    readonly manner: string;
    /** The manner in words. */
    readonly label: string;
    readonly file: string;
    readonly measure: SampleMeasure | null;
  }[];
}

const folder = () => `${import.meta.env.BASE_URL}samples/`;

export const sampleAddress = (file: string): string => folder() + file;

async function get(file: string): Promise<Response> {
  const response = await fetch(sampleAddress(file));
  if (!response.ok) throw new Error(`${file}: ${response.status} ${response.statusText}`);
  return response;
}

let listed: Promise<readonly Sample[]> | null = null;

/** The list of samples; rejects when the page's own files can't be reached (tried again on the next call). */
export function samples(): Promise<readonly Sample[]> {
  listed ??= get('samples.json')
    .then((r) => r.json() as Promise<readonly Sample[]>)
    .catch((error: unknown) => {
      listed = null;
      throw error;
    });
  return listed;
}

/**
 * The pages of a sample in one manner (its first manner when none is named), and what is to be measured on them: on a
 * sample of one page only, since further pages move beside the first.
 */
export async function samplePages(
  id: string,
  manner?: string,
): Promise<{
  readonly sample: Sample;
  readonly pages: readonly TextFile[];
  readonly measure: SampleMeasure | null;
}> {
  const sample = (await samples()).find((s) => s.id === id);
  if (!sample) throw new Error(`There is no sample “${id}”.`);
  const wanted = manner ?? sample.files[0]?.manner;
  const files = sample.files.filter((f) => f.manner === wanted);
  if (files.length === 0) throw new Error(`The sample “${id}” has no manner “${manner}”.`);
  const pages = await Promise.all(
    files.map(async (f) => ({ name: f.file, text: await (await get(f.file)).text() })),
  );
  return { sample, pages, measure: files.length === 1 ? files[0]!.measure : null };
}
