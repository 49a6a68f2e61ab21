// What asks for an answer from this person's departments: at most one at a time stands in the dock.
import { signal } from "@preact/signals";
import { save, takeBack, undo } from "../../acting";
import { ago } from "../../clock";
import { idOf, my_departments, shots_in_order } from "../../day_reads";
import { day_sheet, numberOfShot } from "../../day_sheet";
import { departmentLabel, kindNamed } from "../../kinds_table";
import type { DockAsk } from "../../parts/dock";
import { back, go, link, recordLink } from "../../routing";
import type { CrewRequest, TwoAnswers } from "../../sheet_types";
import { words } from "../../words";

/** What the screen itself asks, such as "Tick both again". Set by the screen while it is open. */
export const screen_ask = signal<DockAsk | null>(null);

export function answerRequest(request: CrewRequest, answer: string, word: string): void {
  const act = {
    kind: "request",
    record: idOf(request.record),
    set: { answer },
    painted: request.painted,
  };
  void save([act], `${word}: ${request.ask}`);
}

export const requestLine = (request: CrewRequest): string =>
  words.join_words([
    words.request.asks(departmentLabel(request.from), departmentLabel(request.to)),
    numberOfShot(request.shot),
    ago(request.at_ms),
  ]);

const isOfShot = (shot: string) => (request: CrewRequest) => request.shot === shot;

function requestAsk(request: CrewRequest): DockAsk {
  const w = words.request;
  const answer = (name: string, word: string, is_main = false) => ({
    word,
    is_main,
    act: () => answerRequest(request, name, word),
  });
  return {
    key: request.record,
    mark: "req",
    from: requestLine(request),
    what: request.ask,
    answers: [answer("heard", w.heard, true), answer("doing", w.doing), answer("declined", w.cant)],
    more: recordLink(request.record),
  };
}

const twoLink = (two: TwoAnswers): string => {
  const [kind = "", id = ""] = two.record.split("/");
  return link("two", [kind, id, two.field]);
};

function twoAsk(two: TwoAnswers, shot: string): DockAsk {
  const departments = two.answers.map((one) => departmentLabel(one.department));
  return {
    key: `${two.record}/${two.field}`,
    mark: "two",
    from: words.join_words([...new Set(departments), numberOfShot(shot)]),
    what: words.day.two_of(two.label),
    answers: [{ word: words.dock.look, is_main: true, act: () => go(twoLink(two)) }],
  };
}

/** Open requests to these departments that nobody has heard yet: must before nice, then the oldest. */
export function askedOf(departments: string[]): CrewRequest[] {
  const open = day_sheet.value?.requests.filter(
    (request) => request.answer === "asked" && departments.includes(request.to),
  );
  return (open ?? []).sort(
    (a, b) => Number(b.must !== "nice") - Number(a.must !== "nice") || a.at_ms - b.at_ms,
  );
}

const concerns = (two: TwoAnswers, departments: string[]): boolean =>
  two.answers.some((one) => departments.includes(one.department)) ||
  !!kindNamed(two.record.slice(0, two.record.indexOf("/")))?.departments.some((one) =>
    departments.includes(one),
  );

/** The one thing for the dock: of the shot in view first. */
export function nextAsk(shot: string): DockAsk | null {
  const mine = my_departments.value;
  const requests = askedOf(mine);
  const request = requests.find(isOfShot(shot)) ?? requests[0];
  if (request) return requestAsk(request);
  const shots = shots_in_order.value.filter(({ readiness }) => readiness.state !== "done");
  for (const one of [...shots.filter((candidate) => candidate.shot === shot), ...shots]) {
    const two = one.sheet.two_answers.find((candidate) => concerns(candidate, mine));
    if (two) return twoAsk(two, one.shot);
  }
  return null;
}

/** An undo takes the dock for its ten seconds; on a screen one goes back from, Back stands beside it. */
export function quietAsk(screen: string, goes_back: boolean): DockAsk | null {
  const offered = undo.value;
  if (!offered && !goes_back) return null;
  const answers = goes_back ? [{ word: words.empty.back, act: back }] : [];
  if (offered) answers.push({ word: words.save.undo_what(offered.said), act: () => void takeBack() });
  return { key: `${screen} ${offered?.until ?? ""}`, is_quiet: true, answers };
}
