"""Edits as lines: what a page of them repeats is left out, so that it travels in fewer bytes than gzip alone makes.

A line is the edit's salt, then `who,counter,at_ms,rules,rest`. who: the number of its incarnation among those of the
group so far, with ":" and its name at its first edit; counter and at_ms: the step from the last edit of that
incarnation, and from the line before; rest: the canonical text from its author on, without the closing bracket. A
text that is written in a way that is not known here stands as it is: it begins with "[", which no line does.
`pwa/src/engine/edit_lines.ts` reads the same lines; `tests/cases/exchange/lines.json` holds both to each other.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

SALT_LENGTH = 8
NUMBER = "(0|[1-9][0-9]*)"


def lines_of(texts: Iterable[str], *, day: str, set_name: str) -> list[str]:
    """Return the lines of texts of one day and set, in their order."""
    known = re.compile(
        rf'\[1,"{re.escape(day)}","{set_name}","([a-z0-9]+)",{NUMBER},"([A-Za-z0-9_-]{{{SALT_LENGTH}}})",'
        rf"{NUMBER},{NUMBER},(.*)\]",
        re.DOTALL,
    )
    places: dict[str, int] = {}
    counters: dict[str, int] = {}
    last_ms = 0
    lines = []
    for text in texts:
        match = known.fullmatch(text)
        if not match:
            lines.append(text)
            continue
        incarnation, counter, salt, version, at_ms, rest = match.groups()
        who = str(places.setdefault(incarnation, len(places)))
        if incarnation not in counters:
            who += ":" + incarnation
        step = int(counter) - counters.get(incarnation, 0)
        lines.append(f"{salt}{who},{step},{int(at_ms) - last_ms},{version},{rest}")
        counters[incarnation], last_ms = int(counter), int(at_ms)
    return lines


def texts_of(lines: Sequence[str], *, day: str, set_name: str) -> list[str]:
    """Return the texts of lines, as they were: the other way round."""
    incarnations: list[str] = []
    counters: list[int] = []
    last_ms = 0
    texts = []
    for line in lines:
        if line.startswith("["):
            texts.append(line)
            continue
        salt = line[:SALT_LENGTH]
        who, step, at_step, version, rest = line[SALT_LENGTH:].split(",", 4)
        number, _colon, name = who.partition(":")
        if name:
            incarnations.append(name)
            counters.append(0)
        place = int(number)
        counters[place] += int(step)
        last_ms += int(at_step)
        head = f'[1,"{day}","{set_name}","{incarnations[place]}",{counters[place]},"{salt}"'
        texts.append(f"{head},{version},{last_ms},{rest}]")
    return texts
