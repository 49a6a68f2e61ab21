// A request: who asks whom for what, and the answers to it.
import { day_sheet } from "../../day_sheet";
import { useInView } from "../../in_view";
import { Empty, Head } from "../../parts/blocks";
import { Said } from "../../parts/said";
import { link } from "../../routing";
import { words } from "../../words";
import { answerRequest, requestLine } from "../frame/asks";

const ANSWERS: [string, string][] = [
  ["heard", words.request.heard],
  ["doing", words.request.doing],
  ["done", words.request.done],
  ["declined", words.request.cant],
];

export function RequestScreen({ id }: { id: string }) {
  const key = `request/${id}`;
  const request = day_sheet.value?.requests.find((one) => one.record === key);
  useInView(key, request?.shot);
  return (
    <>
      <Head number={words.raise.request} />
      {request ? (
        <>
          <p class="para sub">{requestLine(request)}</p>
          <p class="para asked">
            <Said>{request.ask}</Said>
          </p>
          <p class="para sub">
            <Said>
              {words.join_words([
                request.place,
                request.must === "nice" ? words.request.nice : words.request.must,
              ])}
            </Said>
          </p>
          <p class="para">
            <b>{words.request.answers[request.answer]}</b> <Said>{request.answered}</Said>
          </p>
          <div class="actions btns">
            {ANSWERS.filter(([answer]) => answer !== request.answer).map(([answer, word]) => (
              <button
                key={answer}
                type="button"
                class="btn"
                onClick={() => answerRequest(request, answer, word)}
              >
                {word}
              </button>
            ))}
          </div>
        </>
      ) : (
        <Empty sentence={words.request.settled} />
      )}
      <div class="actions btns">
        <a class="btn" href={link("record", ["request", id])}>
          {words.record.edit}
        </a>
        <a class="btn" href={link("history", ["request", id])}>
          {words.record.history}
        </a>
      </div>
    </>
  );
}
