// The engine in a worker, asked one call at a time.
import { Here } from "./engine_here";

const here = new Here((news) => postMessage({ news }));

addEventListener("message", async ({ data: { number, call, asked } }: MessageEvent) => {
  try {
    const answer = await (here[call as keyof Here] as (...asked: unknown[]) => unknown)(...asked);
    postMessage({ number, answer });
  } catch (error) {
    postMessage({ number, failed: String(error) });
  }
});
