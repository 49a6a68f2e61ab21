// Octets of a file as text, and in which encoding they were read: spreadsheets write several and name none.

export type Decoded = { text: string; encoding: string };

const as = (label: string, octets: Uint8Array): string =>
  new TextDecoder(label, { fatal: true }).decode(octets);

/** A byte order mark decides; else UTF-8 where it is that and nothing else, else the old encoding of the western desk. */
export function decoded(octets: Uint8Array): Decoded {
  const [first, second] = octets;
  if (first === 0xff && second === 0xfe) return { text: as("utf-16le", octets), encoding: "UTF-16" };
  if (first === 0xfe && second === 0xff) return { text: as("utf-16be", octets), encoding: "UTF-16" };
  try {
    return { text: as("utf-8", octets), encoding: "UTF-8" };
  } catch {
    return { text: as("windows-1252", octets), encoding: "Windows-1252" };
  }
}
