// What a number is: in the trade's words, how it is worked out, after whom, and its caution. The rules say all of it.
import { useAnswer, useSlow } from "../../asked";
import { Caution, Empty, Fold, Head, Progress } from "../../parts/blocks";
import type { Caution as CautionWords } from "../../sheet_types";
import { words } from "../../words";

const w = words.help;

type Meaning = {
  label: string;
  meaning: string;
  formula: string;
  source: string;
  caution: CautionWords | null;
};

/** Every label within a part of a sheet, in its order. */
export function labelsIn(part: unknown): string[] {
  if (typeof part !== "object" || part === null) return [];
  const own = (part as { label?: unknown }).label;
  return [...(typeof own === "string" ? [own] : []), ...Object.values(part).flatMap(labelsIn)];
}

function Told({ labels, part }: { labels: string[]; part: string }) {
  const key = labels.join("\n");
  const { answer, refusal } = useAnswer<{ meanings: Meaning[] }>({ do: "meanings", labels, part }, [
    key,
    part,
  ]);
  const is_slow = useSlow(!answer && !refusal);
  if (!answer)
    return refusal ? (
      <p class="para">{refusal}</p>
    ) : (
      <Progress sentence={words.wait.rules} is_slow={is_slow} />
    );
  if (!answer.meanings.length) return <Empty sentence={w.none} next={w.none_do} />;
  return (
    <dl>
      {answer.meanings.map((one) => (
        <div key={one.label} class="line">
          <dt>
            <b>{one.label}</b>
          </dt>
          <dd>{one.meaning}</dd>
          {one.formula && (
            <dd class="n">
              {w.formula} {one.formula}
            </dd>
          )}
          {one.source && (
            <dd class="n">
              {w.source} {one.source}
            </dd>
          )}
          {one.caution && (
            <dd>
              <Caution caution={one.caution} />
            </dd>
          )}
        </div>
      ))}
    </dl>
  );
}

/** At the end of a part of a shot: one tap, and each of its numbers says what it is. */
export const Meanings = ({ part, of }: { part: string; of: unknown }) => (
  <Fold title={w.numbers}>
    <p class="para sub">{w.safe}</p>
    <Told labels={labelsIn(of)} part={part} />
  </Fold>
);

export const MeaningScreen = ({ label }: { label: string }) => (
  <>
    <Head number={w.number} name={label} />
    <Told labels={[label]} part="" />
    <p class="para sub">{w.safe}</p>
  </>
);
