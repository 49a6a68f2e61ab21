"""The plain warning that stands beside a number or a tick, by hazard. Each ends with who decides.

Knows no shot. C1 a caution is short, names the danger first and never says that something is safe.
C2 it defers to local codes and to licensed or competent people. All common practice, no source.
"""

from tailslate.day.keys import kind_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from tailslate.day.gathered import Gathered

SENTENCES = {
    "electric": "Electricity kills. Arithmetic only; an outlet that nobody mapped counts as one breaker "
    "with the next. Local codes and a licensed electrician decide.",
    "wet": "Water and electricity: residual-current protection on every run near it. "
    "Local codes and a licensed electrician decide.",
    "overhead": "Over people: a second, independent support on every item, no slack; nobody under it while "
    "it is trimmed. Local codes and a competent rigger decide.",
    "load": "Arithmetic only, for the worst way it can swing. Without the maker's rating nothing here "
    "says that it holds. A competent grip decides.",
    "wind": "Wind: gusts reach well over the mean, and a wet sheet is a sail. Without a limit and a named person "
    "to strike it, it stays down. A competent grip decides.",
    "heat": "Hot: sheets and drapes stay clear of the lamp; household sheets burn until they are proved. "
    "Local fire rules and the gaffer decide.",
    "flame": "Not proved flame-retardant: keep it from flame and hot lamps. "
    "Local fire rules and whoever has the fire watch decide.",
    "open_flame": "Open flame: a person with an extinguisher watches it and nothing else. "
    "Local fire rules and whoever has the fire watch decide.",
    "trip": "Trip line: cross strips, ramp or mat, exits clear, route walked in the light it will have. "
    "The assistant director decides.",
    "food": "Label every jug with its allergens and the time it was made; mark the undrinkable twin. "
    "The food handler decides.",
    "not_cleared": "Not cleared: the allergy round is not done. Nobody drinks or eats it; no answer is not a yes. "
    "The food handler and whoever is asked decide.",
    "battery": "Lithium cells burn: charge them in sight, on something that does not; a swollen, wet or dropped "
    "one goes outside. Whoever has the fire watch decides.",
    "swallowed": "What is swallowed adds up over takes. Every performer is asked in writing, minors through a "
    "guardian; no answer is not a yes. The food handler and whoever drinks it decide.",
    "batch": "Out of the cold the clock runs and never starts again; what is over is thrown away. "
    "Local food rules and the food handler decide.",
    "flash": "Flashing light can harm people: warn everyone on the set before it starts. "
    "The assistant director decides.",
    "hot_cable": "Tape hides the heat of a loaded cable and is no ramp: unroll the cable, lay a mat or ramp where "
    "people walk, keep exits clear. The assistant director decides.",
    "path": "People walk backwards here: clear floor, a hand on the operator's back, nothing to trip over. "
    "The assistant director decides.",
    "glass": "Real glass breaks: shoes on, a broom at hand, nobody picks it up by hand; a hard floor is swept before "
    "the next take. The property master decides.",
    "haze": "Haze and smoke: announced, air between takes, detectors dealt with by whoever is responsible for them; "
    "some people may not breathe it. Local rules and whoever has the fire watch decide.",
    "watch": "Nobody said whether there is flame, haze, work at height or real glass: each needs a person who watches "
    "it and nothing else. Local codes and a competent person decide.",
    "hours": "Arithmetic on what was typed: meals, rest and the hours of performers under age are set by law and "
    "contract. Local rules and whoever answers for these people decide.",
    "height": "Work at height: a ladder that is footed, tools tied on, nobody below. "
    "Local codes and a competent person decide.",
}
OF_HAZARD = ("overhead", "electric", "wind", "heat", "trip", "food", "height")


def caution(code: str) -> "dict[str, str]":
    """Return a caution as a sheet shows it: keys code, sentence.

    Args:
        code: one of SENTENCES.
    """
    return {"code": code, "sentence": SENTENCES[code]}


def of_hazard(hazard: str) -> "dict[str, str] | None":
    """Return the caution of a task's hazard, None when there is none.

    Args:
        hazard: a choice of the field `hazard`.
    """
    return caution(hazard) if hazard in OF_HAZARD else None


def of_rig(key: str, records: "Gathered") -> "dict[str, str]":
    """Return the caution of a rig: over people unless someone said no, else its load.

    Args:
        key: record key of the rig.
        records: the rig.
    """
    return _overhead_or("load", key, records)


def of_dressing(key: str, records: "Gathered") -> "dict[str, str] | None":
    """Return the caution of a piece of dressing: not proved flame-retardant until someone said yes.

    Args:
        key: record key of the dressing.
        records: the dressing.
    """
    return None if records.text(key, "flame_retardant") == "yes" else caution("flame")


def of_circuit(key: str, records: "Gathered") -> "dict[str, str]":
    """Return the caution of a circuit: every figure about one carries it.

    Args:
        key: record key of the circuit.
        records: the circuit.
    """
    return caution("electric" if records.text(key, "residual_current_protected") == "yes" else "wet")


def of_source(key: str, records: "Gathered") -> "dict[str, str]":
    """Return the caution of a lamp and of what stands before it: over people unless someone said no, else its heat.

    Args:
        key: record key of the source.
        records: the source.
    """
    return _overhead_or("heat", key, records)


def _overhead_or(danger: str, key: str, records: "Gathered") -> "dict[str, str]":
    return caution(danger if records.text(key, "overhead") == "no" else "overhead")


def of_record(key: str, records: "Gathered") -> "dict[str, str] | None":
    """Return the caution of whatever is said about a record, None where nothing of it can hurt.

    Args:
        key: record key. Of a drink or a food it says nothing: that goes by its allergy round.
        records: the record, and the lamp that a sheet stands before.
    """
    kind = kind_of(key)
    if kind == "rig":
        return of_rig(key, records)
    if kind == "circuit":
        return of_circuit(key, records)
    if kind == "dressing":
        return of_dressing(key, records)
    if kind == "taping":
        return caution("hot_cable")
    if kind == "layer":
        key = records.target(key, "source")
    return of_source(key, records) if kind in ("source", "layer") else None
