"""Single faults to seed into an aircraft that has none: each an edit of its text, and what must be found.

Every edit works on the text of a manifest as its owner writes it; nothing of preflint is used here. The
right direction of each remedy is worked out by hand from the view that the entry is written in.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Seeded:
    """``text`` with the fault; ``mark`` is a piece of the line that must be named; ``remedy`` must occur in it.

    ``settings`` are the numbers that the remedy must name after a word, each with how far it may be off.
    """

    text: str
    at: str | None
    mark: str
    remedy: str
    settings: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True)
class Fault:
    name: str
    rule: str
    seed: Callable[[str], Seeded | None]


OTHER = {"cw": "ccw", "ccw": "cw", "up": "down", "down": "up"}
ROTOR = re.compile(
    r"^  - \{at: (?P<at>[\w-]+),.*spin: (?P<spin>cw|ccw),.*hand: (?P<hand>cw|ccw), face: (?P<face>up|down)\}, "
    r"fixing: \{nut_tightens: (?P<nut>cw|ccw)\}\}$",
    re.MULTILINE,
)


def rotor_edit(
    which: int, old: str, new: str, remedy: Callable[[re.Match[str]], str]
) -> Callable[[str], Seeded | None]:
    """Changes one word of the entry of one rotor; ``{hand}`` and so on stand for what it has, ``{!hand}`` the other."""

    def seed(text: str) -> Seeded | None:
        rotor = list(ROTOR.finditer(text))[which]
        names = rotor.groupdict() | {f"!{k}": OTHER.get(v, v) for k, v in rotor.groupdict().items()}

        def fill(pattern: str) -> str:
            return re.sub(r"\{(!?\w+)\}", lambda m: names[m[1]], pattern)

        line = rotor[0]
        changed = line.replace(fill(old), fill(new))
        assert changed != line
        return Seeded(text.replace(line, changed), rotor["at"], changed, fill(remedy(rotor)))

    return seed


def swap(
    old: str, new: str, remedy: str, at: str | None = None, mark: str | None = None
) -> Callable[[str], Seeded | None]:
    """Replaces the first match of a pattern; not applicable where there is none."""

    def seed(text: str) -> Seeded | None:
        changed, count = re.subn(old, new, text, count=1)
        if not count:
            return None
        new_lines = [b for a, b in zip(text.split("\n"), changed.split("\n"), strict=False) if a != b]
        first = ROTOR.search(text)
        assert first
        return Seeded(changed, first["at"] if at == "first" else at, new_lines[0] if mark is None else mark, remedy)

    return seed


def flip_in(record: str, which: int) -> Callable[[str], Seeded | None]:
    """Turns the spin of one rotor round in ``expects_spin`` or ``seen``."""

    def seed(text: str) -> Seeded | None:
        rotor = list(ROTOR.finditer(text))[which]
        block = re.search(rf"{record}: \{{[^}}]*\}}", text)
        assert block
        changed = re.sub(rf"\b{rotor['at']}: {rotor['spin']}\b", f"{rotor['at']}: {OTHER[rotor['spin']]}", block[0])
        assert changed != block[0]
        return Seeded(text.replace(block[0], changed), rotor["at"], f"{rotor['at']}: {OTHER[rotor['spin']]}", "")

    return seed


def swap_outputs(text: str) -> Seeded | None:
    one, two = (rotor["at"] for rotor in list(ROTOR.finditer(text))[:2])
    changed = re.sub(rf"\b{one}: {one}\b", f"{one}: {two}", text)
    changed = re.sub(rf"\b{two}: {two}\b", f"{two}: {one}", changed)
    return Seeded(changed, one, f"{one}: {two}", "")


def setting(text: str, key: str) -> float:
    """A setting of the flight controller, as installed."""
    found = re.search(rf"^  {key}: ([\d.]+)$", text, re.MULTILINE)
    assert found
    return float(found[1])


def scale_rows(record: str, column: int, factor: float, key: str, power: int) -> Callable[[str], Seeded | None]:
    """Multiplies one column of a record's inline rows: what the meter showed.

    volts = input × divider_ratio, so the ratio goes with the meter (power 1); amperes = input / mV per A, so that
    goes against it (power -1). The aircraft's own reading is within 0.5 % of the meter before, and is shown to 0.1 A.
    """

    def seed(text: str) -> Seeded | None:
        block = re.search(rf"  {record}:\n(?:    .*\n)+", text)
        assert block
        rows = re.search(r"rows: \[\[.*?\]\]", block[0], re.DOTALL)
        assert rows

        def row(found: re.Match[str]) -> str:
            cells = found[1].split(",")
            cells[column] = f" {float(cells[column]) * factor:.3f}"
            return f"[{','.join(cells)}]"

        changed = "rows: [" + re.sub(r"\[([\d., -]+)\]", row, rows[0][len("rows: [") : -1]) + "]"
        right = (key, setting(text, key) * factor**power, 0.012)
        return Seeded(text.replace(block[0], block[0].replace(rows[0], changed)), None, "", "", (right,))

    return seed


def number(key: str, factor: float) -> Callable[[str], Seeded | None]:
    """Multiplies the installed setting ``key``; the records keep what was in force, which was right."""

    def seed(text: str) -> Seeded | None:
        was = setting(text, key)
        changed = re.sub(rf"^  {key}: [\d.]+$", f"  {key}: {was * factor:.4f}", text, count=1, flags=re.MULTILINE)
        return Seeded(changed, None, f"  {key}: {was * factor:.4f}", "", ((key, was, 0.012),))

    return seed


def negate_offset(text: str) -> Seeded | None:
    found = re.search(r"^  interference_offset_ut_per_a: \[(.*)\]$", text, re.MULTILINE)
    assert found
    right = [float(value) for value in found[1].split(",")]
    line = f"  interference_offset_ut_per_a: [{', '.join(f'{-value:.4f}' for value in right)}]"
    settings = (("interference_offset_ut_per_a", right[0], 0.08),)  # the run's own noise
    return Seeded(text.replace(found[0], line), None, line, "", settings)


def calibrated_after(text: str) -> Seeded | None:
    """The current was compared after the run, and the scale set anew: by a tenth, since the run."""
    later = text.replace("- date: 2026-05-16 13:30", "- date: 2026-05-16 15:30", 1)
    run = re.search(r"(  interference_run:\n(?:    .*\n)*?.*sensor_mv_per_a: )([\d.]+)", later)
    assert run
    assert later != text
    return Seeded(later.replace(run[0], f"{run[1]}{float(run[2]) * 1.1:.2f}", 1), None, "- date: 2026-05-16 14:00", "")


def log_entry(entry: str) -> Callable[[str], Seeded | None]:
    """Adds work to the logbook, and a later flight so that only the work itself speaks."""

    def seed(text: str) -> Seeded | None:
        first = ROTOR.search(text)
        assert first
        line = "  - " + entry.replace("FIRST", first["at"])
        return Seeded(text + line + "\n  - {date: 2026-05-20 18:00, kind: flown}\n", None, "", "")

    return seed
