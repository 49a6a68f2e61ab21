// The record a screen is about: what Raise writes on by default.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";

export type InView = { record: string; shot: string };
export const in_view = signal<InView>({ record: "", shot: "" });

export function useInView(record: string, shot = ""): void {
  useEffect(() => {
    in_view.value = { record, shot };
  }, [record, shot]);
}
