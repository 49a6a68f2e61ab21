// The bell: a stream that says "something changed". What changed comes by exchange. Open only while in sight.
const WATCHDOG_MS = 40_000;

/** Listen until the stream ends, falls silent for 40 s, or is cancelled. Returns how it ended. */
export async function listenToBell(
  url: string,
  token: string,
  cancel: AbortSignal,
  ring: () => void,
): Promise<"ended" | "silent" | "refused"> {
  const stop = new AbortController();
  const give_up = () => stop.abort();
  cancel.addEventListener("abort", give_up, { once: true });
  let watchdog = setTimeout(give_up, WATCHDOG_MS);
  try {
    const response = await fetch(url, {
      headers: { Authorization: `Bearer ${token}`, Accept: "text/event-stream" },
      signal: stop.signal,
      cache: "no-store",
      credentials: "omit",
    });
    const is_stream =
      response.ok && (response.headers.get("Content-Type") ?? "").startsWith("text/event-stream");
    if (!is_stream || !response.body) return "refused";
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let line = "";
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return "ended";
      clearTimeout(watchdog);
      watchdog = setTimeout(give_up, WATCHDOG_MS);
      const lines = (line + value).split("\n");
      line = lines.pop() ?? "";
      if (lines.some((one) => one.startsWith("event: bell"))) ring();
    }
  } catch {
    return "silent"; // a broken or silent connection; the next exchange says whether the server is there
  } finally {
    clearTimeout(watchdog);
    stop.abort();
    cancel.removeEventListener("abort", give_up);
  }
}
