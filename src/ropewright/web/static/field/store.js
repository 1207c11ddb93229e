// What the phone keeps: cards, the work in hand, entries and photos.  Nothing is ever thrown away
// before the server has it.

const NAME = "ropewright-field";
const STORES = { keep: "key", cards: "rope_id", work: "rope_id", entries: "id", photos: "id" };

let opened = null;

function database() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      for (const [name, keyPath] of Object.entries(STORES)) {
        if (!request.result.objectStoreNames.contains(name)) {
          request.result.createObjectStore(name, { keyPath });
        }
      }
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  return opened;
}

async function run(name, mode, act) {
  const db = await database();
  return new Promise((resolve, reject) => {
    const change = db.transaction(name, mode);
    const request = act(change.objectStore(name));
    change.oncomplete = () => resolve(request.result);
    change.onerror = () => reject(change.error);
    change.onabort = () => reject(change.error);
  });
}

export const get = (store, key) => run(store, "readonly", (held) => held.get(key));
export const all = (store) => run(store, "readonly", (held) => held.getAll());
export const put = (store, value) => run(store, "readwrite", (held) => held.put(value));
export const remove = (store, key) => run(store, "readwrite", (held) => held.delete(key));

/** A single value kept under a name. */
export async function kept(key, otherwise = null) {
  return (await get("keep", key))?.value ?? otherwise;
}
export const keep = (key, value) => put("keep", { key, value });

/** Entries and the work they change, all or nothing. */
export async function putTogether(entries, work) {
  const db = await database();
  return new Promise((resolve, reject) => {
    const change = db.transaction(["entries", "work"], "readwrite");
    for (const entry of entries) change.objectStore("entries").put(entry);
    if (work) change.objectStore("work").put(work);
    change.oncomplete = () => resolve();
    change.onerror = () => reject(change.error);
    change.onabort = () => reject(change.error);
  });
}
