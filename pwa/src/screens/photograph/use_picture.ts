// A picture as this phone has it, followed: looked at anew whenever the engine says that it changed.
import { useEffect, useState } from "preact/hooks";
import { picture } from "../../engine/client";
import type { Picture } from "../../engine/contract";
import { changesOf } from "../../pictures_now";

export type Seen = Omit<Picture, "octets"> & { url: string };

export function usePicture(digest: string, wants_full: boolean): Seen | null {
  const [seen, setSeen] = useState<Seen | null>(null);
  const changed = changesOf(digest).value;
  useEffect(() => {
    let is_over = false;
    let url = "";
    picture(digest, wants_full).then(
      ({ octets, ...rest }) => {
        if (is_over) return;
        if (octets) url = URL.createObjectURL(new Blob([octets as BlobPart], { type: "image/jpeg" }));
        setSeen({ ...rest, url });
      },
      (error: unknown) => console.error("the picture was not read", error),
    );
    return () => {
      is_over = true;
      URL.revokeObjectURL(url);
    };
  }, [digest, wants_full, changed]);
  return seen;
}
