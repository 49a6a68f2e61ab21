// Acts that the rules make of a starting point, a copy or a thing now: saved together or not at all, one tap back.
import { offerUndo } from "../../acting";
import { gather } from "../../day_reads";
import { actAll, ask, newId, type ScreenAct } from "../../engine/client";
import type { Fields, RecordKey } from "../../engine/contract";
import { kindNamed } from "../../kinds_table";
import { words } from "../../words";

export type Tables = { [table: string]: TableRow[] };
export type TableRow = { id: string; kind?: string; name: string; passes_for?: string[] };

// Short rows of seed_data, written by tables_bundle.py when the app is built; read when they are first wanted.
const shipped = import.meta.glob<{ default: Tables }>("../../../generated/tables.json");

export async function tables(): Promise<Tables> {
  const [read] = Object.values(shipped);
  if (!read) throw new Error("this build holds no tables");
  return (await read()).default;
}

/** What starting points and copies read of the day. */
export const allOfTheSet = (): { [key: RecordKey]: Fields } =>
  gather(
    "scene shot setup point source layer level rig dressing serves drink mark taping task starting_point".split(
      " ",
    ),
  );

/** Save acts that make new records, and offer to take them off the day again. Returns why not, "" when saved. */
async function makeAll(acts: ScreenAct[], said: string): Promise<string> {
  const answers = await actAll(acts, true);
  const refused = answers.find((one) => !one.saved);
  if (refused && !refused.saved) return refused.reasons[0]?.sentence ?? words.save.no_answer;
  const keys = acts.map(({ kind, record }) => `${kind}/${record}`);
  const records = Object.fromEntries(
    answers.map((one, place) => [keys[place], { made: [0, [[one.id]], [], [], []] }]),
  );
  // A part goes with its whole: a removal of its own would be news of the part, and bring the whole back.
  const isPart = ({ kind, set }: ScreenAct): boolean => {
    const whole = kindNamed(kind)?.part_of;
    return !!whole && acts.some(({ record }) => record === set[whole]);
  };
  const wholes = acts.filter((act) => !isPart(act));
  const back = await Promise.all(
    wholes.map(async ({ kind, record }): Promise<ScreenAct> => {
      const answer = await ask({ do: "removal", record: `${kind}/${record}`, records });
      return {
        kind,
        record,
        set: { present: (answer as unknown as { value: string }).value },
        painted: { present: [] },
      };
    }),
  );
  offerUndo(said, back);
  return "";
}

/** Ask the rules for acts and do them. Returns why not, or "", and what else the rules said. */
export async function make(
  question: { do: string; [name: string]: unknown },
  said: string,
): Promise<{ refused: string; shot?: string; acts?: ScreenAct[] }> {
  try {
    const answer = await ask({ ...question, stem: newId(), records: allOfTheSet() });
    if (!answer.ok) return { refused: answer.sentence };
    const { acts, shot } = answer as unknown as { acts: ScreenAct[]; shot?: string };
    return { refused: await makeAll(acts, said), acts, ...(shot ? { shot } : {}) };
  } catch (error) {
    console.error("the rules made no acts", error);
    return { refused: words.save.no_answer };
  }
}
