"""Values as displays show them, and maps and lists as an owner writes them in YAML."""

import math
from collections.abc import Mapping
from typing import Any

# The workshop and the field, and an earlier day on which some things were measured too.
BEFORE, DAY, FLIGHT = "2026-05-09", "2026-05-16", "2026-05-17"


def shown(value: float, digit: float) -> float:
    """To the last digit of the display."""
    return round(round(value / digit) * digit, max(0, -math.floor(math.log10(digit) + 1e-9)))


def figures(value: float, count: int = 4) -> float:
    """To so many figures."""
    return float(f"{value:.{count}g}")


def flow(value: object) -> str:
    """In one line."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(flow(one) for one in value) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:.12g}" if isinstance(value, float) else str(value)


Records = dict[str, list[dict[str, object]]]


def listed(entries: list[dict[str, object]], indent: str) -> str:
    return "".join(f"{indent}- {flow(entry)}\n" for entry in entries)


def write(document: Mapping[str, Any]) -> str:
    """The whole manifest: rotors, records and logbook an entry a line, any other section in one."""
    plain = {key: value for key, value in document.items() if key not in ("rotors", "records", "logbook")}
    text = "preflint: 1\n" + "".join(f"{key}: {flow(value)}\n" for key, value in plain.items())
    text += "rotors:\n" + listed(document["rotors"], "  ") + "records:\n"
    text += "".join(f"  {kind}:\n{listed(entries, '    ')}" for kind, entries in document["records"].items() if entries)
    return text + ("logbook:\n" + listed(document["logbook"], "  ") if document["logbook"] else "")
