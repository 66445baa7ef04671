/**
 * Documents kept in this browser (IndexedDB). Each is kept as the text of a project file, so that one schema and one
 * migration serve files and autosave alike; a small card beside it makes the list without reading the texts.
 */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

export interface DocumentCard {
  readonly id: string;
  readonly title: string;
  /** Milliseconds since 1970. */
  readonly savedAt: number;
  /** Names of the pattern files. */
  readonly files: readonly string[];
}

export interface Library {
  put(card: DocumentCard, text: string): Promise<void>;
  text(id: string): Promise<string | null>;
  /** Newest first. */
  cards(): Promise<readonly DocumentCard[]>;
  remove(id: string): Promise<void>;
}

interface Schema extends DBSchema {
  cards: { key: string; value: DocumentCard };
  texts: { key: string; value: string };
}

const version = 1;

/** Opens the browser's store on first use. Every call rejects where the browser allows no storage. */
export function browserLibrary(name = 'girthwise'): Library {
  let opening: Promise<IDBPDatabase<Schema>> | null = null;
  const database = () => {
    opening ??= openDB<Schema>(name, version, {
      upgrade(db) {
        db.createObjectStore('cards', { keyPath: 'id' });
        db.createObjectStore('texts');
      },
      blocking(_current, _blocked, event) {
        // A newer version of the page wants to upgrade: let go, and open again when next needed.
        (event.target as IDBDatabase).close();
        opening = null;
      },
      terminated() {
        opening = null;
      },
    }).catch((error: unknown) => {
      opening = null;
      throw error;
    });
    return opening;
  };
  return {
    async put(card, text) {
      const tx = (await database()).transaction(['cards', 'texts'], 'readwrite');
      await Promise.all([
        tx.objectStore('cards').put(card),
        tx.objectStore('texts').put(text, card.id),
        tx.done,
      ]);
    },
    async text(id) {
      return (await (await database()).get('texts', id)) ?? null;
    },
    async cards() {
      const cards = await (await database()).getAll('cards');
      return cards.sort((a, b) => b.savedAt - a.savedAt || (a.id < b.id ? -1 : 1));
    },
    async remove(id) {
      const tx = (await database()).transaction(['cards', 'texts'], 'readwrite');
      await Promise.all([tx.objectStore('cards').delete(id), tx.objectStore('texts').delete(id), tx.done]);
    },
  };
}

/** Lasts as long as the page: for tests. */
export function memoryLibrary(): Library {
  const kept = new Map<string, { card: DocumentCard; text: string }>();
  return {
    async put(card, text) {
      kept.set(card.id, { card, text });
    },
    async text(id) {
      return kept.get(id)?.text ?? null;
    },
    async cards() {
      return [...kept.values()].map((k) => k.card).sort((a, b) => b.savedAt - a.savedAt);
    },
    async remove(id) {
      kept.delete(id);
    },
  };
}
