// Files that the build packed smaller than gzip can (pwa/packed.py), as they were.
import { XzReadableStream } from "xz-decompress";

/** Fetch a packed file; the answer's body is the file as it was. */
export async function fetchPacked(url: string, type: string): Promise<Response> {
  const { ok, status, body } = await fetch(url);
  if (!ok || !body) throw new Error(`${url} did not come: ${status}`);
  return new Response(new XzReadableStream(body), { headers: { "content-type": type } });
}
