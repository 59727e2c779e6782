"""A rule module, and the one door through which rule modules come in."""

import importlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache
from types import ModuleType
from typing import NoReturn

from preflint.engine.answer import are
from preflint.engine.freshness import Staling
from preflint.engine.interrupts import from_outside, told_apart
from preflint.engine.rule import FigureSource, Rule, wrong_with_rule
from preflint.errors import RuleModuleError, told
from preflint.findings.rule_info import Tolerance
from preflint.frozen import dataclass

API = 1
BUILT_IN = "preflint_rules"


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
        stands = (value for module in modules for value in vars(module).values())
        every = [each for value in stands for each in (value if isinstance(value, tuple) else (value,))]
        rules = tuple(each for each in every if isinstance(each, Rule))
        figures = tuple(each for each in every if isinstance(each, FigureSource))
        return cls(API, name, rules, figures, tuple(freshness))


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

    def without_functions(self) -> "Registry":
        """All that is known of the rules, in a form that travels between processes: nobody can be asked."""
        rules = tuple(replace(rule, judge=_elsewhere) for rule in self.rules)
        figures = tuple(replace(source, compute=_elsewhere) for source in self.figures)
        return replace(self, rules=rules, figures=figures)


def _elsewhere(*_: object) -> NoReturn:
    raise RuleModuleError("this rule is asked in another process")


def load_rule_module(module: str) -> RuleModule:
    """The ``MODULE`` of an installed module that the user named. Raises RuleModuleError with what is wrong with it."""
    with told_apart():
        try:
            offered: object = getattr(importlib.import_module(module), "MODULE", None)
            wrong = _wrong_with(offered)
        except BaseException as error:  # whatever a stranger's module raises while it loads, an exit too
            if from_outside(error):
                raise
            raise RuleModuleError(f"rule module {module} does not load: {told(error)}") from None
    if wrong is not None or not isinstance(offered, RuleModule):
        raise RuleModuleError(f"rule module {module} {wrong}")
    return offered


def _wrong_with(offered: object) -> str | None:
    if not isinstance(offered, RuleModule) or not are(RuleModule, offered):
        return "has no MODULE made by preflint.api.RuleModule"
    if not are(int, offered.api) or offered.api != API:
        return f"is written for api {offered.api}; this preflint offers api {API}"
    if not are(str, offered.name) or not offered.name.strip():
        return "has no name"
    for kind, given in ((Rule, offered.rules), (FigureSource, offered.figures), (Staling, offered.freshness)):
        if not are(tuple, given) or not are(kind, *given):
            return "must offer tuples: of rules made by @rule, of figures made by @figure, of rows that are Staling"
    if not offered.rules:
        return "has no rules: nothing would be asked of it"
    if any(not are(str, source.id) or not callable(source.compute) for source in offered.figures):
        return "has a figure that was not made by @figure"
    if not are(str, *(text for row in offered.freshness for text in (row.record, row.part, *row.work))):
        return "has a row of freshness whose words are no texts"
    named = [row.settings for row in offered.freshness if row.settings is not None]
    if not are(frozenset, *named) or not are(str, *(word for words in named for word in words)):
        return "has a row of freshness whose settings are no set of texts"
    return next(filter(None, map(wrong_with_rule, offered.rules)), None)


def builtin_and(modules: Iterable[str]) -> Registry:
    """The built-in rule module and those that the user named."""
    if named := [load_rule_module(module) for module in modules]:
        return Registry.of([_builtin(), *named])
    return _builtin_alone()


@cache
def _builtin() -> RuleModule:
    """Looked at once in a process: it is ours, and does not change."""
    return load_rule_module(BUILT_IN)


@cache
def _builtin_alone() -> Registry:
    """What nearly every run asks; nobody writes to it."""
    return Registry.of([_builtin()])
