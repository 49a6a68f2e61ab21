// Acts into edits: which ids an act replaces, its counter, and the text that the rules make of it.
import type { Act, Membership, Reason, RecordKey } from "./contract";
import { type ReadEdit, readText } from "./edit_text";
import { randomText } from "./exchange";
import type { Kinds } from "./merging";
import { type Rules, RulesRefused } from "./rules";

type Own = { id: string; record: RecordKey; fields: string[] };
const LOCALS_KEPT = 1000;

/** The edits that this tab makes: counters per set, and which of its acts became which edit. */
export class Author {
  private readonly counters = new Map<string, number>();
  private readonly locals = new Map<number, Own>();

  constructor(
    private readonly rules: Rules,
    private readonly kinds: Kinds,
    private readonly incarnation: string,
    private readonly day: string,
  ) {}

  /** Turn acts into edits, or into the reasons why not. Changes nothing here: `applied` does, once they are on the day. */
  make(acts: Act[], membership: Membership): (ReadEdit | Reason[])[] {
    const counters = new Map(this.counters);
    const locals = new Map(this.locals);
    return acts.map((act) => {
      const { reasons } = this.rules.ask<{ reasons: Reason[] }>({
        do: "check",
        kind: act.kind,
        set: act.set,
      });
      if (reasons.length) return reasons;
      const set = this.kinds.setOf(act.kind);
      if (!membership.sets.includes(set)) return [notAllowed(set)];
      const counter = (counters.get(set) ?? 0) + 1;
      const edit = this.makeOne(act, membership.person, counter, seenBy(act, locals));
      if (Array.isArray(edit)) return edit;
      counters.set(set, counter);
      if (act.local !== undefined) locals.set(act.local, ownOf(act, edit));
      return edit;
    });
  }

  /** These edits are on the day now. */
  applied(acts: Act[], edits: (ReadEdit | Reason[])[]): void {
    for (const [place, edit] of edits.entries()) {
      if (Array.isArray(edit)) continue;
      const act = acts[place] as Act;
      this.counters.set(edit.set, edit.parts[4]);
      if (act.local !== undefined) this.locals.set(act.local, ownOf(act, edit));
    }
    for (const number of this.locals.keys()) {
      if (this.locals.size <= LOCALS_KEPT) break;
      this.locals.delete(number);
    }
  }

  private makeOne(
    act: Act,
    person: string,
    counter: number,
    seen: { [field: string]: string[] },
  ): ReadEdit | Reason[] {
    try {
      const { text } = this.rules.ask<{ text: string }>({
        do: "make",
        day: this.day,
        incarnation: this.incarnation,
        counter,
        salt: randomText(8),
        at_ms: Date.now(),
        by: person,
        for_whom: act.for_whom ?? "",
        how: act.how ?? "",
        kind: act.kind,
        record: act.record,
        changes: act.set,
        seen,
      });
      const edit = readText(text, this.day);
      if (!edit) throw new Error("the rules made a text that this phone cannot read back");
      return edit;
    } catch (error) {
      if (error instanceof RulesRefused) return [{ field: "", code: error.code, sentence: error.sentence }];
      throw error;
    }
  }
}

const ownOf = (act: Act, edit: ReadEdit): Own => ({
  id: edit.id,
  record: edit.record,
  fields: Object.keys(act.set),
});

const notAllowed = (set: string): Reason => ({
  field: "",
  code: "set_not_allowed",
  sentence: `This phone may not hold ${set} records. Ask production for a code that allows it.`,
});

/** What an act replaces: what its screen painted, and this tab's own acts on the field that it did not show yet. */
function seenBy(act: Act, locals: Map<number, Own>): { [field: string]: string[] } {
  const seen: { [field: string]: string[] } = {};
  for (const field in act.set) {
    const ids = new Set(act.painted[field] ?? []);
    for (const number of act.after ?? []) {
      const own = locals.get(number);
      if (own?.record === `${act.kind}/${act.record}` && own.fields.includes(field)) ids.add(own.id);
    }
    seen[field] = [...ids];
  }
  return seen;
}
