// What the engine tells of pictures, as signals: how many were never sent, and which one to look at anew.
import { type Signal, signal } from "@preact/signals";
import type { News, PicturesNow } from "./engine/contract";

export const pictures_now = signal<PicturesNow>({ unsent: 0, held_bytes: 0, budget_bytes: 0 });
const changes = new Map<string, Signal<number>>();

/** Counts up with every change of one picture. */
export function changesOf(digest: string): Signal<number> {
  const found = changes.get(digest) ?? signal(0);
  changes.set(digest, found);
  return found;
}

/** Take the news; called by engine/client.ts. */
export function hearOfPictures(news: News): void {
  if (news.news === "pictures") pictures_now.value = news.now;
  if (news.news === "picture") changesOf(news.digest).value += 1;
}
