"""A pack of rules, and the one door through which packs come in."""

import importlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from preflint.engine.rule import FigureSource, Rule, Tolerance
from preflint.errors import PackError

API = 1


@dataclass(frozen=True, slots=True)
class Staling:
    """What makes records of one kind stale: work of these kinds on this part (``any``: whatever the part)."""

    record: str
    part: str
    work: frozenset[str]
    per_rotor: bool  # the record speaks for single rotors, and so does the work


@dataclass(frozen=True, slots=True)
class Pack:
    """What a rule pack offers; ``api`` is the version of :mod:`preflint.api` it was written for."""

    api: int
    name: str
    rules: tuple[Rule, ...] = ()
    figures: tuple[FigureSource, ...] = ()
    freshness: tuple[Staling, ...] = ()


@dataclass(frozen=True, slots=True)
class Registry:
    """All packs of a run together, in order of rule id."""

    rules: tuple[Rule, ...]
    figures: tuple[FigureSource, ...]
    freshness: tuple[Staling, ...]
    tolerances: Mapping[str, Tolerance]

    @classmethod
    def of(cls, packs: Iterable[Pack]) -> "Registry":
        """Raises PackError where two packs give the same rule or figure, or two meanings to one tolerance."""
        rules: dict[str, Rule] = {}
        figures: dict[str, FigureSource] = {}
        freshness: list[Staling] = []
        tolerances: dict[str, Tolerance] = {}
        for pack in packs:
            for rule in pack.rules:
                if rule.id in rules:
                    raise PackError(f"pack {pack.name}: rule {rule.id} exists already")
                rules[rule.id] = rule
                for tolerance in rule.tolerances:
                    if tolerances.setdefault(tolerance.name, tolerance) != tolerance:
                        raise PackError(
                            f"pack {pack.name}: tolerance {tolerance.name} is declared in two ways"
                        )
            for source in pack.figures:
                if source.id in figures:
                    raise PackError(f"pack {pack.name}: figure {source.id} exists already")
                figures[source.id] = source
            freshness.extend(pack.freshness)
        if not rules:
            raise PackError("no rules: nothing could be judged")
        return cls(
            tuple(rules[id] for id in sorted(rules)), tuple(figures.values()), tuple(freshness), tolerances
        )


def load_pack(module: str) -> Pack:
    """The ``PACK`` of an installed module that the user named. Raises PackError with what is wrong with it."""
    try:
        loaded: Any = importlib.import_module(module)
    except Exception as error:  # whatever a stranger's module raises while it loads
        raise PackError(f"pack {module} does not load: {type(error).__name__}: {error}") from error
    pack = getattr(loaded, "PACK", None)
    if not isinstance(pack, Pack):
        raise PackError(f"pack {module} has no PACK made by preflint.api.Pack")
    if pack.api != API:
        raise PackError(f"pack {module} is written for api {pack.api}; this preflint offers api {API}")
    if not all(isinstance(r, Rule) for r in pack.rules) or not all(
        isinstance(f, FigureSource) for f in pack.figures
    ):
        raise PackError(f"pack {module}: rules and figures must be made by @rule and @figure")
    return pack


def builtin_and(modules: Iterable[str]) -> Registry:
    """The built-in pack and those that the user named."""
    return Registry.of([load_pack("preflint_rules"), *(load_pack(module) for module in modules)])
