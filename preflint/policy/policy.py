"""A club policy in force: what it makes of the rules, the limits and the work that ends a record."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache, partial

from preflint.aircraft.records import Records
from preflint.aircraft.words import PARTS
from preflint.check.complaint import Complaint, child, entries, in_words, items
from preflint.check.near import suggestion
from preflint.engine.freshness import Staling
from preflint.engine.lasting import ENDS
from preflint.engine.rule import Rule
from preflint.engine.rule_module import Registry
from preflint.errors import Problem, UsageError
from preflint.findings.outcome import Severity
from preflint.findings.rule_info import RuleInfo, Tolerance
from preflint.frozen import dataclass
from preflint.load.node import Node
from preflint.load.quoting import in_quotes, shorten
from preflint.places import Place
from preflint.policy.check import check_policy
from preflint.policy.rules import ClubRule, UpperLimit, no_deferrals
from preflint.policy.source import PolicySource
from preflint.version import __version__

_VERSION = re.compile(r"[0-9]{1,6}(\.[0-9]{1,6}){1,2}")


@dataclass(frozen=True, slots=True)
class FieldDay:
    """``site`` takes the place of the manifests' sites where one is judged for this day."""

    date: dt.date
    site: Node | None
    place: Place


@dataclass(frozen=True, slots=True)
class Policy:
    """Checked against the rules there are. ``weakens`` says in words what is looser than usual.

    ``days``: the weather of single days, in place of what the manifests say of them. ``roster``: the aircraft that the
    club expects, by name. ``manual``: where the club publishes the pages of rules, ending in a slash; None where it
    does not.
    """

    source: PolicySource
    field_day: FieldDay | None
    days: tuple[Node, ...]
    limits: Mapping[str, float]
    needed: tuple[str, ...]
    freshness: tuple[Staling, ...]
    upper: tuple[UpperLimit, ...]
    rules: tuple[ClubRule, ...]
    deferrals: bool
    exclude: tuple[str, ...]
    roster: tuple[str, ...]
    weakens: tuple[str, ...]
    manual: str | None = None

    def __str__(self) -> str:
        said = f"{self.source.file} sha256:{self.source.sha256[:16]}"
        return f"{said}; weakens: {', '.join(self.weakens)}" if self.weakens else said

    def excludes(self, name: str) -> bool:
        """Whether the club says that this file is no manifest; ``name`` counts from the policy's folder."""
        own = name.rpartition("/")[2]
        files = (pattern for pattern in self.exclude if not pattern.endswith("/"))
        return any(_fits(pattern, name if "/" in pattern else own) for pattern in files) or self.excludes_folder(name)

    def excludes_folder(self, name: str) -> bool:
        """Whether the club leaves out a folder that this file lies in; such a pattern ends in a slash."""
        *steps, _ = name.split("/")
        folders = [(step, "/".join(steps[: i + 1])) for i, step in enumerate(steps)]
        patterns = [pattern[:-1] for pattern in self.exclude if pattern.endswith("/")]
        return any(_fits(p, whole if "/" in p else own) for p in patterns for own, whole in folders)

    def in_force(self, registry: Registry, document: Node) -> Registry:
        """What one manifest is judged by; ``document`` is that manifest, whose words the club's rules ask about.

        Raises UsageError where a rule module has a rule of the same id.
        """
        own = [limit.rule() for limit in self.upper] + [rule.rule(document) for rule in self.rules]
        if not self.deferrals:
            own.append(no_deferrals(self.source.file))
        rules = list(registry.rules)
        if self.manual is not None:  # the club's own rules have no address: no catalogue lists them
            rules = [_published(rule, self.manual) for rule in rules]
        taken = {rule.info.id for rule in rules}
        for id in (rule.info.id for rule in own):
            if id in taken:
                raise UsageError(f"{self.source.file}: a rule {id} exists already; give the club's another id")
            taken.add(id)
        rules = sorted([*rules, *own], key=lambda rule: rule.info.id)
        if self.needed:
            rules = [_needed(rule) if self._asks_for(rule.info) else rule for rule in rules]
        return replace(registry, rules=tuple(rules), freshness=(*registry.freshness, *self.freshness))

    def _asks_for(self, info: RuleInfo) -> bool:
        """Whether flight needs it at this club, and did not otherwise."""
        return not info.needed_for_flight and (info.id in self.needed or info.topic in self.needed)


# What a policy makes of a rule is the same for every aircraft, and what is told of each points to it.
@lru_cache(1024)
def _published(rule: Rule, manual: str) -> Rule:
    return replace(rule, info=replace(rule.info, published=f"{manual}{rule.info.id}.html"))


@lru_cache(1024)
def _needed(rule: Rule) -> Rule:
    return replace(rule, info=replace(rule.info, needed_for_flight=True))


def make_policy(source: PolicySource, registry: Registry) -> Policy:
    """Raises UsageError with everything that is wrong, each at its place."""
    document = source.document
    _refuse_older(source)
    complaints = check_policy(document, source.site)
    if not complaints:
        complaints = list(_names(document, registry))
    if complaints:
        raise source.refused("the policy is wrong, nothing was judged", in_words(complaints, source.file))
    limits = {name: _number(node) for name, node in entries(child(document, "tolerances"))}
    ages = _ages(registry)
    limits |= {ages[kind].name: _number(node) for kind, node in entries(child(document, "record_ages"))}
    deferrals, manual = child(document, "deferrals"), child(document, "manual")
    policy = Policy(
        source,
        _field_day(document, source.site),
        tuple(items(child(document, "days"))),
        limits,
        tuple(str(item.value) for item in items(child(document, "needed_for_flight"))),
        tuple(_row(row, registry) for row in items(child(document, "freshness"))),
        tuple(UpperLimit(name, _number(node), node.place) for name, node in entries(child(document, "limits"))),
        tuple(_club_rule(rule) for rule in items(child(document, "rules"))),
        deferrals is None or deferrals.value == "allowed",
        tuple(str(item.value) for item in items(child(document, "exclude"))),
        tuple(str(item.value) for item in items(child(document, "roster"))),
        tuple(_loosened(limits, registry.tolerances)),
        None if manual is None else f"{str(manual.value).removesuffix('/')}/",
    )
    policy.in_force(registry, document)  # an id that is taken is told before anything is judged
    return policy


def _refuse_older(source: PolicySource) -> None:
    """Before all else: what a newer policy says an older preflint would call wrong."""
    least = child(source.document, "minimum_version")
    if least is None or not isinstance(least.value, str) or not _VERSION.fullmatch(least.value):
        return  # the schema says what is wrong with it
    if _version(__version__) < _version(least.value):
        said = f"this preflint is {__version__}, and the policy asks for {least.value} or newer: nothing was judged"
        raise source.refused(said, [Problem(f"minimum_version is {least.value}", least.place)])


def _version(text: str) -> tuple[int, ...]:
    """Its numbers, three of them; of 1.2.0rc1 those of 1.2.0."""
    found = [int(number) for number in re.findall(r"[0-9]+", text)[:3]]
    return (*found, *[0] * (3 - len(found)))


def _ages(registry: Registry) -> dict[str, Tolerance]:
    """The limit of age of each kind of record that has one."""
    return {limit.age_of: limit for limit in registry.tolerances.values() if limit.age_of is not None}


def _number(node: Node) -> float:
    assert isinstance(node.value, int | float)
    return float(node.value)


def _loosened(limits: Mapping[str, float], tolerances: Mapping[str, Tolerance]) -> Iterator[str]:
    for name, value in limits.items():
        usual = tolerances[name]
        if value != usual.default and (value > usual.default) == (usual.stricter == "lower"):
            yield f"{name} {usual.with_unit(value)} (usually {usual.with_unit(usual.default)})"


def _field_day(document: Node, site: Node | None) -> FieldDay | None:
    date = child(document, "field_day", "date")
    return FieldDay(dt.date.fromisoformat(str(date.value)), site, date.place) if date else None


def _row(row: Node, registry: Registry) -> Staling:
    record, part = str(_of(row, "record").value), str(_of(row, "part").value)
    work = frozenset(str(item.value) for item in items(child(row, "work")))
    per_rotor = any(known.per_rotor for known in registry.freshness if known.record == record)
    return Staling(record, "any" if part == "anything" else part, work, per_rotor)


def _club_rule(rule: Node) -> ClubRule:
    needs, remedy = _of(rule, "needs"), child(rule, "remedy")
    severity = Severity[str(_of(rule, "severity").value).upper().replace("-", "_")]
    return ClubRule(
        str(_of(rule, "id").value), severity, str(_of(rule, "message").value), str(_of(rule, "precaution").value),
        needs.plain(), needs.key or needs.place, str(remedy.value) if remedy else None,
    )  # fmt: skip


def _of(node: Node, name: str) -> Node:
    found = child(node, name)
    assert found is not None  # the schema requires it
    return found


def _fits(pattern: str, name: str) -> bool:
    """Whether the name is the pattern with any text for each star, in time that no pattern can stretch."""
    first, *middle = pattern.split("*")
    if not middle:
        return name == pattern
    last = middle.pop()
    at, end = len(first), len(name) - len(last)
    if at > end or not name.startswith(first) or not name.endswith(last):
        return False
    for piece in middle:
        found = name.find(piece, at, end)
        if found < 0:
            return False
        at = found + len(piece)
    return True


def _names(document: Node, registry: Registry) -> Iterator[Complaint]:
    """Names of tolerances, rules, records, parts and work that do not exist."""
    kinds, ages = Records.kinds(), _ages(registry)
    for name, node in entries(child(document, "tolerances")):
        yield from _unknown(name, node.key or node.place, "tolerance", tuple(registry.tolerances))
        kind = registry.tolerances[name].age_of if name in registry.tolerances else None
        if kind is not None and child(document, "record_ages", kind):
            yield Complaint(node.key or node.place, partial(_two_ages, kind))
    for kind, node in entries(child(document, "record_ages")):
        yield from _unknown(kind, node.key or node.place, "kind of record with an age", tuple(ages))
    own = {str(id.value) for rule in items(child(document, "rules")) if (id := child(rule, "id"))}
    made = {f"club/{UpperLimit.names[name]}" for name, _ in entries(child(document, "limits"))}
    rules = own | made | {rule.info.id for rule in registry.rules}
    for item in items(child(document, "needed_for_flight")):
        names = sorted(rules | {id.partition("/")[0] for id in rules})
        yield from _unknown(str(item.value), item.place, "rule or topic", names)
    for row in items(child(document, "freshness")):
        record, part = _of(row, "record"), _of(row, "part")
        yield from _unknown(str(record.value), record.place, "kind of record", kinds)
        yield from _unknown(str(part.value), part.place, "part", sorted((*PARTS, "anything")))
        for work in items(child(row, "work")):
            yield from _unknown(str(work.value), work.place, "kind of work", sorted(ENDS))
    for rule in items(child(document, "rules")):
        id = _of(rule, "id")
        if str(id.value) in made:
            yield Complaint(id.place, partial(_taken, str(id.value)))


def _unknown(name: str, place: Place, what: str, known: Sequence[str]) -> Iterator[Complaint]:
    if name not in known:
        yield Complaint(place, lambda: f"no {what} is named {in_quotes(shorten(name))}; {suggestion(name, known)}")


def _two_ages(kind: str) -> str:
    return f"the age of {kind} stands under record_ages as well; keep one of them"


def _taken(id: str) -> str:
    return f"{id} is the rule that limits makes; give this one another id"
