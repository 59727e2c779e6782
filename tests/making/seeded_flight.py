"""Single faults that a flight shows, of settings and of papers; and near misses, of which nothing may be said.

As in the other lists nothing of preflint is used here.
"""

import re
from collections.abc import Callable

from making.seeded import ROTOR, Fault, Seeded

LOOK = re.compile(r"  after_flight_look:\n(?:    .*\n)+")


def in_look(key: str, new: str) -> Callable[[str], Seeded | None]:
    """Writes a line of the look after the flight anew; FIRST stands for the first rotor."""

    def seed(text: str) -> Seeded | None:
        look, first = LOOK.search(text), ROTOR.search(text)
        assert look
        assert first
        line = f"      {key}: {new.replace('FIRST', first['at'])}"
        changed, count = re.subn(rf"^      {key}: .*$", line, look[0], flags=re.MULTILINE)
        return Seeded(text.replace(look[0], changed), first["at"], line, "") if count else None

    return seed


def felt(first: str) -> Callable[[str], Seeded | None]:
    """How the first motor feels, where they were felt."""
    return in_look("motors", f"{{FIRST: {first}, others: warm}}")


def read(more_k: int) -> Callable[[str], Seeded | None]:
    """The first motor warmer by so much than it was, where they were read."""

    def seed(text: str) -> Seeded | None:
        first = ROTOR.search(text)
        assert first
        found = re.search(rf"motors_c: \{{(?:.*[ ])?{first['at']}: (\d+)", text)
        if not found:
            return None
        warmer = found[0][: -len(found[1])] + str(int(found[1]) + more_k)
        return Seeded(text.replace(found[0], warmer), first["at"], warmer, "")

    return seed


def outputs(factor: float, of: Callable[[re.Match[str]], bool]) -> Callable[[str], Seeded | None]:
    """The mean outputs of some rotors, so many times what they were."""

    def seed(text: str) -> Seeded | None:
        noted = re.search(r"output_percent: \{.*\}", text)
        assert noted
        changed = noted[0]
        for rotor in ROTOR.finditer(text):
            if of(rotor):
                was = re.search(rf"(?<![\w-]){rotor['at']}: (\d+)", changed)
                assert was
                changed = f"{changed[: was.start(1)]}{int(was[1]) * factor:.0f}{changed[was.end(1) :]}"
        return Seeded(text.replace(noted[0], changed), None, changed, "") if changed != noted[0] else None

    return seed


def in_front(rotor: re.Match[str]) -> bool:
    return rotor["at"].startswith(("front", "nose", "right-front", "left-front"))


def beside(record: str) -> Callable[[str], Seeded | None]:
    """Settings saved twice, besides what is there; papers written, where there are none."""

    def seed(text: str) -> Seeded | None:
        if "saved_settings" in text:
            return None
        return Seeded(text.replace("\nlogbook:\n", f"\n  saved_settings: {record}\n\nlogbook:\n", 1), None, record, "")

    return seed


def papers(held: str) -> Callable[[str], Seeded | None]:
    def seed(text: str) -> Seeded | None:
        without = re.sub(r"^papers: .*\n\n", "", text, flags=re.MULTILINE)
        line = f"papers: {{{held}}}"
        return Seeded(without.replace("\nrecords:\n", f"\n{line}\n\nrecords:\n", 1), None, line, "")

    return seed


def other_settings(day: str) -> Callable[[str], Seeded | None]:
    def seed(text: str) -> Seeded | None:
        line = f"  - {{date: {day}, kind: settings-changed, part: flight-controller, touches: [other]}}"
        return Seeded(text + line + "\n", None, line, "")

    return seed


TWO_SHAS = "[{date: 2026-05-16, sha256: 3b0c61a7d9e24f58}, {date: 2026-05-17, sha256: SECOND}]"

FAULTS = [
    Fault("a hot motor", "after_flight/hot-motor", felt("hot")),
    Fault("a motor hotter than the others", "after_flight/hot-motor", read(25)),
    Fault("a nut that moved", "after_flight/nut-moved", in_look("nuts_moved", "[FIRST]")),
    Fault("a hot pack", "after_flight/hot-pack", in_look("pack_c", "71")),
    Fault("rotors of one spin work harder", "after_flight/output-split",
          outputs(1.25, lambda rotor: rotor["spin"] == "cw")),
    Fault("a heavy nose", "after_flight/output-trim", outputs(1.65, in_front)),
    Fault("nobody looked after the flight", "freshness/first-flight",
          lambda text: Seeded(LOOK.sub("", text), None, "", "write an after_flight_look")),
    Fault("settings that nobody logged", "freshness/unlogged-change",
          beside(TWO_SHAS.replace("SECOND", "60303ae22b998861"))),
    Fault("other settings changed lately", "freshness/other-settings", other_settings("2026-05-15")),
    Fault("insurance that ended", "papers/dates", papers("insurance_until: 2026-05-20")),
    Fault("registration that ends soon", "papers/ends-soon", papers("registration_until: 2026-06-10")),
    Fault("no label", "papers/label", papers("label_on_aircraft: false")),
]  # fmt: skip

NEAR_MISSES = {
    "a cool motor": felt("cool"),
    "a motor a little warmer": read(9),
    "a warm pack": in_look("pack_c", "52"),
    "a little trim in yaw": outputs(1.05, lambda rotor: rotor["spin"] == "cw"),
    "a pack a little ahead": outputs(1.05, in_front),
    "settings saved twice, alike": beside(TWO_SHAS.replace("SECOND", "3b0c61a7d9e24f58")),
    "other settings long ago": other_settings("2026-04-01"),
    "insurance for another two months": papers("insurance_until: 2026-07-21"),
}
