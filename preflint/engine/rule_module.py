"""A rule module, and the one door through which rule modules come in."""

import importlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import ModuleType
from typing import Any, TypeVar

from preflint.engine.freshness import Staling
from preflint.engine.rule import FigureSource, Rule
from preflint.errors import RuleModuleError
from preflint.findings.rule_info import Tolerance

API = 1
BUILT_IN = "preflint_rules"

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class RuleModule:
    """What a rule module offers; ``api`` is the version of :mod:`preflint.api` it was written for."""

    api: int
    name: str
    rules: tuple[Rule, ...] = ()
    figures: tuple[FigureSource, ...] = ()
    freshness: tuple[Staling, ...] = ()

    @classmethod
    def of(cls, name: str, *modules: ModuleType, freshness: Iterable[Staling] = ()) -> "RuleModule":
        """All rules and figures that stand in these modules, for the api of this preflint."""
        return cls(API, name, tuple(_all(Rule, modules)), tuple(_all(FigureSource, modules)), tuple(freshness))


def _all(kind: type[T], modules: Iterable[ModuleType]) -> Iterator[T]:
    for module in modules:
        for value in vars(module).values():
            yield from (each for each in (value if isinstance(value, tuple) else (value,)) if isinstance(each, kind))


@dataclass(frozen=True, slots=True)
class Registry:
    """All rule modules of a run together, in order of rule id; ``modules`` are their names."""

    rules: tuple[Rule, ...]
    figures: tuple[FigureSource, ...]
    freshness: tuple[Staling, ...]
    tolerances: Mapping[str, Tolerance]
    modules: tuple[str, ...] = ()

    @classmethod
    def of(cls, modules: Iterable[RuleModule]) -> "Registry":
        """Raises RuleModuleError where two modules give the same rule or figure, or two meanings to one tolerance."""
        rules: dict[str, Rule] = {}
        figures: dict[str, FigureSource] = {}
        freshness: list[Staling] = []
        tolerances: dict[str, Tolerance] = {}
        names: list[str] = []
        for module in modules:
            where = f"rule module {module.name}"
            names.append(module.name)
            for rule in module.rules:
                if rule.info.id in rules:
                    raise RuleModuleError(f"{where}: rule {rule.info.id} exists already")
                rules[rule.info.id] = rule
                for tolerance in rule.info.tolerances:
                    if tolerances.setdefault(tolerance.name, tolerance) != tolerance:
                        raise RuleModuleError(f"{where}: tolerance {tolerance.name} is declared in two ways")
            for source in module.figures:
                if source.id in figures:
                    raise RuleModuleError(f"{where}: figure {source.id} exists already")
                figures[source.id] = source
            freshness.extend(module.freshness)
        if not rules:
            raise RuleModuleError("no rules: nothing could be judged")
        return cls(
            tuple(rules[id] for id in sorted(rules)),
            tuple(figures.values()),
            tuple(freshness),
            tolerances,
            tuple(names),
        )


def load_rule_module(module: str) -> RuleModule:
    """The ``MODULE`` of an installed module that the user named. Raises RuleModuleError with what is wrong with it."""
    try:
        loaded: Any = importlib.import_module(module)
    except Exception as error:  # whatever a stranger's module raises while it loads
        raise RuleModuleError(f"rule module {module} does not load: {type(error).__name__}: {error}") from error
    offered = getattr(loaded, "MODULE", None)
    if not isinstance(offered, RuleModule):
        raise RuleModuleError(f"rule module {module} has no MODULE made by preflint.api.RuleModule")
    if offered.api != API:
        raise RuleModuleError(f"rule module {module} is written for api {offered.api}; this preflint offers api {API}")
    if not all(isinstance(r, Rule) for r in offered.rules) or not all(
        isinstance(f, FigureSource) for f in offered.figures
    ):
        raise RuleModuleError(f"rule module {module}: rules and figures must be made by @rule and @figure")
    return offered


def builtin_and(modules: Iterable[str]) -> Registry:
    """The built-in rule module and those that the user named."""
    return Registry.of([load_rule_module(BUILT_IN), *(load_rule_module(module) for module in modules)])
