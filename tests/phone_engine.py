"""A phone's engine, asked through the door that the screens use: join, act, look, and wait for what must come."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Page

from people import CrewMember
from server_process import ServerProcess, command

WAIT_MS = 20_000


def invite(server: ServerProcess, member: CrewMember) -> str:
    """Return a join code for this person's departments."""
    asked = [f"--department={department}" for department in member.departments]
    asked += ["--head"] if member.is_head else []
    return command("invite", "--database", server.database, "--uses", "100", *asked)


class Engine:
    """One tab of one phone."""

    def __init__(self, page: Page, url: str) -> None:
        self.page = page
        self.url = url

    def open(self) -> str:
        """Load the app and return what it opened: "nothing" or "day"."""
        self.page.goto(self.url)
        return self.opened()

    def reload(self) -> str:
        """Load the app again."""
        self.page.reload()
        return self.opened()

    def opened(self) -> str:
        """Wait until the stored day, or none, is painted."""
        self.page.locator("#app[data-opened]").wait_for(timeout=WAIT_MS)
        return str(self.page.locator("#app").get_attribute("data-opened"))

    def ask(self, script: str, argument: Any = None) -> Any:
        """Evaluate a script in which `tailslate` is the engine's door."""
        return self.page.evaluate(script, argument)

    def join(self, code: str, member: CrewMember, device_name: str = "phone") -> dict[str, Any]:
        """Join a day; the day is open afterwards."""
        request = {
            "code": code,
            "name": member.name,
            "role": member.role,
            "departments": list(member.departments),
            "device_name": device_name,
        }
        answer: dict[str, Any] = self.ask("request => tailslate.join(request)", request)
        assert answer["joined"], answer
        return dict(answer["opened"]["membership"])

    def act(self, kind: str, record: str, changes: dict[str, Any], **more: Any) -> dict[str, Any]:
        """Make one act and return the answer."""
        made = {"kind": kind, "record": record, "set": changes, **more}
        return dict(self.ask("act => tailslate.act(act)", made))

    def saved(self, kind: str, record: str, changes: dict[str, Any], **more: Any) -> str:
        """Make one act that must be saved, and return its id."""
        answer = self.act(kind, record, changes, **more)
        assert answer["saved"], answer
        return str(answer["id"])

    @property
    def facts(self) -> dict[str, Any]:
        """The three facts and what stands behind them."""
        return dict(self.ask("() => tailslate.factsNow()"))

    @property
    def notices(self) -> list[str]:
        """The codes of what the person is told now."""
        return [notice["code"] for notice in self.facts["notices"]]

    def fields(self, record: str) -> dict[str, Any]:
        """The cells of a record as the screens have them."""
        return dict(self.ask("key => tailslate.recordNow(key) ?? {}", record))

    def shown(self, record: str, field: str) -> Any:
        """The value that the screens show for a field."""
        return self.ask(
            "([key, field]) => tailslate.shown(tailslate.recordNow(key)?.[field]) ?? null", [record, field]
        )

    def day(self) -> dict[str, Any]:
        """Every cell that the screens have, by record and field."""
        found: dict[str, Any] = self.ask(
            """async () => {
              const { kinds } = await tailslate.ask({ do: "kinds" });
              const keys = kinds.flatMap(({ name }) => tailslate.recordsOf(name).value);
              return Object.fromEntries(keys.map((key) => [key, tailslate.recordNow(key)]));
            }"""
        )
        return found

    def until(self, condition: str) -> None:
        """Wait until a condition on `facts` (and `tailslate`) holds; fail with the facts when it does not."""
        script = """() => new Promise((resolve, reject) => {
          const gives_up_ms = performance.now() + WAIT_MS;
          const look = () => {
            const facts = tailslate.facts.value ?? {};
            if (CONDITION) resolve(true);
            else if (performance.now() > gives_up_ms) reject(new Error("never: " + JSON.stringify(facts)));
            else setTimeout(look, 20);
          };
          look();
        })"""
        self.page.evaluate(script.replace("WAIT_MS", str(WAIT_MS)).replace("CONDITION", condition))

    def until_sent(self) -> None:
        """Exchange until nothing is unsent and both sides hold the same."""
        self.ask("() => tailslate.exchangeNow()")
        self.until("facts.unsent === 0 && !facts.exchanging && facts.matched_ms && !facts.incomplete.length")

    def until_rows_are_few(self) -> None:
        """Wait until the engine has folded its rows into the snapshot, which it does when it has nothing else to do."""
        self.page.evaluate(
            """(wait_ms) => new Promise((resolve, reject) => {
              const gives_up_ms = performance.now() + wait_ms;
              const name = `tailslate.${tailslate.membership.value.day}`;
              const look = () => {
                const opening = indexedDB.open(name);
                opening.onsuccess = () => {
                  const database = opening.result;
                  const counting = database.transaction("rows").objectStore("rows").count();
                  counting.onsuccess = () => {
                    database.close();
                    if (counting.result < 20) resolve(true);
                    else if (performance.now() > gives_up_ms) reject(new Error(`${counting.result} rows`));
                    else setTimeout(look, 100);
                  };
                };
              };
              look();
            })""",
            WAIT_MS,
        )

    def in_worker(self, script: str, argument: Any = None) -> Any:
        """Evaluate a script inside the engine's worker."""
        [worker] = [one for one in self.page.workers if "worker" in one.url]
        return worker.evaluate(script, argument)


def same_bytes(one: Any, other: Any) -> bool:
    """Tell whether two answers are the same JSON text, keys sorted."""
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)
