import { type Kysely, sql } from 'kysely'

/** Shorter words cannot be found by their letters in threes. */
const LEAST_LETTERS = 3

/**
 * An index of all letters in threes of what recordings are looked up by (SQLite documentation, “FTS5, the
 * trigram tokenizer”), kept up to date by triggers. It holds nothing that `placement.search_text` does not.
 * Rows of the index are named by numbers of our own: those of `placement` may change when the file is packed.
 */
export const SEARCH_INDEX_SQL: readonly string[] = [
  'create table search_key (key integer primary key, recording_id text not null unique)',
  "create virtual table search_words using fts5 (words, tokenize = 'trigram', content = '', contentless_delete = 1)",
  'insert into search_key (recording_id) select recording_id from placement',
  `insert into search_words (rowid, words)
    select k.key, p.search_text from search_key k join placement p on p.recording_id = k.recording_id`,
  `create trigger search_added after insert on placement begin
    insert into search_key (recording_id) values (new.recording_id);
    insert into search_words (rowid, words)
      select key, new.search_text from search_key where recording_id = new.recording_id;
  end`,
  `create trigger search_changed after update of search_text on placement begin
    delete from search_words where rowid = (select key from search_key where recording_id = new.recording_id);
    insert into search_words (rowid, words)
      select key, new.search_text from search_key where recording_id = new.recording_id;
  end`,
  `create trigger search_removed after delete on placement begin
    delete from search_words where rowid = (select key from search_key where recording_id = old.recording_id);
    delete from search_key where recording_id = old.recording_id;
  end`,
]

/**
 * Ids of recordings whose text holds all these words; `null` where more than `most` do, or no word is long
 * enough.
 */
export async function findWords<T>(
  db: Kysely<T>,
  words: readonly string[],
  most: number,
): Promise<readonly string[] | null> {
  const long = words.filter(word => Array.from(word).length >= LEAST_LETTERS)
  if (long.length === 0) return null
  const phrases = long.map(word => `"${word.replaceAll('"', '""')}"`).join(' AND ')
  const { rows } = await sql<{ id: string }>`
    select k.recording_id as id from search_words w join search_key k on k.key = w.rowid
    where search_words match ${phrases} limit ${most + 1}`.execute(db)
  return rows.length > most ? null : rows.map(({ id }) => id)
}
