import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { fileStem, writeArchive } from '../../src/output';

const files = [
  { name: 'gannet-helm/panels.svg', content: '<svg>⚓</svg>' },
  { name: 'gannet-helm/pages.pdf', content: new Uint8Array([1, 2, 3, 255]) },
];

describe('the archive of a build', () => {
  it('gives the files back, in order', () => {
    const read = unzipSync(writeArchive(files));
    expect(Object.keys(read)).toEqual(files.map((f) => f.name));
    expect(strFromU8(read['gannet-helm/panels.svg']!)).toBe('<svg>⚓</svg>');
    expect([...read['gannet-helm/pages.pdf']!]).toEqual([1, 2, 3, 255]);
  });

  it('is the same for the same files, in any time zone', () => {
    const here = Buffer.from(writeArchive(files)).toString('base64');
    expect(Buffer.from(writeArchive(structuredClone(files))).toString('base64')).toBe(here);
    const zone = process.env.TZ;
    const zones = ['Pacific/Auckland', 'America/Los_Angeles'].map((name) => {
      process.env.TZ = name;
      return Buffer.from(writeArchive(files)).toString('base64');
    });
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    expect(zones).toEqual([here, here]);
  });

  it('refuses two files of one name', () => {
    expect(() => writeArchive([files[0]!, files[0]!])).toThrow(/panels\.svg/);
  });

  it('names files by the title', () => {
    expect(fileStem('Gannet helm (2)')).toBe('Gannet-helm-2');
    expect(fileStem('Möwe / Watch')).toBe('Mowe-Watch');
    expect(fileStem('…')).toBe('untitled');
    expect(fileStem(`${'a'.repeat(59)} bcd`)).toHaveLength(59);
  });
});
