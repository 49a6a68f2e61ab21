// Words that people typed: as text, in their own direction, never able to turn what stands beside them.
import type { ComponentChildren } from "preact";
import { words } from "../words";
import { Mark } from "./mark";

export const Said = ({ children }: { children: ComponentChildren }) => <bdi dir="auto">{children}</bdi>;

/** A length of paper tape. Names a thing; never a state, never a button by itself. */
export function Strip(props: {
  number?: string | undefined;
  name?: string | undefined;
  is_small?: boolean;
  cut?: number;
}) {
  const cut = (props.cut ?? 0) % 2 ? " b" : "";
  return (
    <span class={`strip${props.is_small ? " s" : ""}${cut}`}>
      {props.number && <Said>{props.number}</Said>}{" "}
      {props.name &&
        (props.number ? (
          <i>
            <Said>{props.name}</Said>
          </i>
        ) : (
          <Said>{props.name}</Said>
        ))}
    </span>
  );
}

/** Another department changed this for mine, and I have not looked. */
export const Unseen = () => (
  <span class="changed">
    <Mark name="chg" is_small /> <b class="act">{words.bring.feed.unseen}</b>{" "}
  </span>
);

/** Text with a number and its unit never breaks between them: "2.7 m". */
export const unbroken = (text: string): string => text.replace(/(\d) (?=[^\d\s])/g, "$1\u00a0");

/** A sentence that something follows ends with a full stop. */
export const stopped = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);
