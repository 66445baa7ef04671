/**
 * The narrow door to the PDF library: pages given as operators go in, the bytes of a file come out. Only the library's
 * object model and writer are used. No clock and no chance: dates and ids are fixed by the content, so the same pages
 * give the same bytes.
 */
import { PDFContext, PDFHexString, PDFName, type PDFStream, PDFString, PDFWriter } from '@cantoo/pdf-lib';
import { strToU8, zlibSync } from 'fflate';
import { hashText, type Work } from '../base';

export interface PdfPage {
  /** Label shown by readers instead of a page number. */
  readonly label: string;
  /** Points of 1/72 in. */
  readonly width: number;
  readonly height: number;
  readonly content: string;
}

/** Date of every file: it says nothing, and must not change. */
const fixedDate = 'D:20000101000000Z';

/**
 * Writes the file. Print scaling is switched off in the viewer preferences (ISO 32000-1, table 150): readers then
 * propose to print at true size.
 */
export async function writePdf(pages: readonly PdfPage[], title: string, work: Work): Promise<Uint8Array> {
  const context = PDFContext.create();
  const tree = context.nextRef();
  const kids = [];
  const hashes: string[] = [title];
  for (const [i, page] of pages.entries()) {
    await work.step(i, pages.length, 'Writing the PDF');
    const content = context.register(compressed(context, page.content));
    kids.push(
      context.register(
        context.obj({
          Type: 'Page',
          Parent: tree,
          MediaBox: [0, 0, page.width, page.height],
          Resources: {},
          Contents: content,
        }),
      ),
    );
    hashes.push(page.label, hashText(page.content));
  }
  context.assign(tree, context.obj({ Type: 'Pages', Kids: kids, Count: kids.length }));
  const labels = context.obj({
    Nums: pages.flatMap((page, i) => [i, context.obj({ P: PDFHexString.fromText(page.label) })]),
  });
  context.trailerInfo.Root = context.register(
    context.obj({
      Type: 'Catalog',
      Pages: tree,
      PageLabels: labels,
      Lang: PDFString.of('en'),
      ViewerPreferences: { PrintScaling: PDFName.of('None'), DisplayDocTitle: true },
    }),
  );
  context.trailerInfo.Info = context.register(
    context.obj({
      Title: PDFHexString.fromText(title),
      Creator: PDFString.of('Girthwise'),
      Producer: PDFString.of('Girthwise'),
      CreationDate: PDFString.of(fixedDate),
      ModDate: PDFString.of(fixedDate),
    }),
  );
  const id = PDFHexString.of(fileId(hashes.join(' ')));
  context.trailerInfo.ID = context.obj([id, id]);
  return PDFWriter.forContext(context, Number.POSITIVE_INFINITY).serializeToBuffer();
}

/**
 * Effort of compression, of 9. Pages are coordinates, which hardly shrink with more effort: 6, the library's usual
 * choice, takes twice the time for 1 % less.
 */
const effort = 2;

function compressed(context: PDFContext, content: string): PDFStream {
  return context.stream(zlibSync(strToU8(content), { level: effort }), { Filter: 'FlateDecode' });
}

/** 32 hexadecimal digits made from the content. */
function fileId(text: string): string {
  return [0, 1, 2]
    .map((lane) =>
      Number.parseInt(hashText(`${lane} ${text}`), 36)
        .toString(16)
        .padStart(14, '0'),
    )
    .join('')
    .slice(0, 32)
    .toUpperCase();
}
