"""The rules that a club policy makes: upper limits, demands on the manifest, and no deferrals."""

from collections.abc import Callable, Mapping
from typing import Any, ClassVar

from preflint.aircraft.field import Known
from preflint.aircraft.logbook import Deferral
from preflint.aircraft.model import Aircraft
from preflint.aircraft.rotor import Rotor
from preflint.engine.context import Context
from preflint.engine.rule import Judge, Rule
from preflint.findings.outcome import ADVISORY, NO_GO, Clear, Finding, Outcome, Related, Severity, Unproven, need
from preflint.findings.rule_info import Each, RuleInfo
from preflint.frozen import dataclass
from preflint.load.node import Node, Plain
from preflint.places import Place
from preflint.policy.satisfied import satisfied
from preflint.precautions import PACK_UNPLUGGED, Job, Precaution

_MANUAL = "It does not check whether the club's demand is enough."


@dataclass(frozen=True, slots=True)
class UpperLimit:
    """One entry of ``limits``. What is above it is no-go; what nobody recorded is unproven, and flight needs it."""

    names: ClassVar[Mapping[str, str]] = {
        "takeoff_mass_g": "takeoff-mass",
        "prop_diameter_in": "prop-diameter",
        "arm_mm": "arm-length",
    }
    key: str
    most: float
    place: Place

    def rule(self) -> Rule:
        judges: Mapping[str, tuple[Each, Callable[[Any, Context], Outcome], str]] = {
            "takeoff_mass_g": ("aircraft", self._mass, "Is it lighter than the club allows?"),
            "prop_diameter_in": ("rotor", self._prop, "Is the prop smaller than the club allows?"),
            "arm_mm": ("aircraft", self._arm, "Are its arms shorter than the club allows?"),
        }
        each, judge, title = judges[self.key]
        source = f"club policy, {self.place.file} line {self.place.line}"
        manual = f"{title}\n\nThe most that the club's policy lets fly is {self.most:g} ({self.key}). {_MANUAL}"
        return _rule(
            judge, f"club/{self.names[self.key]}", NO_GO, Job.MECHANICAL, PACK_UNPLUGGED, source, manual, each, True
        )

    def _mass(self, aircraft: Aircraft, _: Context) -> Outcome:
        return self._against(need(aircraft.about.takeoff_mass_g), "ready to fly", "g", "take mass off")

    def _prop(self, rotor: Rotor, _: Context) -> Outcome:
        return self._against(need(rotor.prop.diameter_in), "prop", "in", "fit a smaller prop")

    def _arm(self, aircraft: Aircraft, _: Context) -> Outcome:
        """The farthest shaft by any record: the arm as measured, and the rotors' places."""
        written: list[Known[float]] = [_distance(r.place_mm) for r in aircraft.rotors if isinstance(r.place_mm, Known)]
        if len(written) < len(aircraft.rotors) or isinstance(aircraft.about.arm_mm, Known):
            written.append(need(aircraft.about.arm_mm))
        farthest = max(written, key=lambda known: known.value)
        return self._against(farthest, "from centre to shaft", "mm", "fly it where longer arms are allowed")

    def _against(self, found: Known[float], what: str, unit: str, remedy: str) -> Outcome:
        compared = f"{what} {found.value:g} {unit}; the club's limit is {self.most:g} {unit}"
        if found.value <= self.most:
            return Clear(compared)
        return Finding(
            place=found.place,
            message=f"{self.key} is {found.value:g}; the club lets no more than {self.most:g} fly",
            evidence=compared,
            do=f"{remedy}, or do not fly it at this club",
            related=(Related(self.place, "the club's limit"),),
        )


def _distance(place: Known[tuple[float, ...]]) -> Known[float]:
    forward, right, _ = place.value
    return Known(float((forward**2 + right**2) ** 0.5), place.place)


@dataclass(frozen=True, slots=True)
class ClubRule:
    """One entry of ``rules``: a JSON Schema that the manifest must satisfy. What it leaves open grounds as a no-go.

    ``remedy`` is what the club says to do where the manifest does not satisfy it.
    """

    id: str
    severity: Severity
    message: str
    precaution: str
    needs: Plain
    place: Place
    remedy: str | None = None

    def rule(self, document: Node) -> Rule:
        """The rule asked about one manifest, with shared parts and ``every_rotor`` in place."""

        def judge(aircraft: Aircraft, _: Context) -> Outcome:
            return self._judge(document)

        source = f"club policy, {self.place.file} line {self.place.line}"
        demand = "The manifest must satisfy the JSON Schema under needs, and record all that it asks about."
        what_to_do = f"Where it does not: {self.remedy}\n\n" if self.remedy else ""
        manual = f"{self.message}\n\n{demand}\n\n{what_to_do}{_MANUAL}"
        needed = self.severity == NO_GO  # or silence would fly what the club grounds
        return _rule(
            judge, self.id, self.severity, Job.RECORD, self.precaution, source, manual, needed_for_flight=needed
        )

    def _judge(self, document: Node) -> Outcome:
        here = (Related(self.place, "what the club asks"),)
        told = satisfied(self.needs, document)
        if told.holds is False:
            first, *others = dict.fromkeys(told.failing)
            more = tuple(Related(place, "here too") for place in others)
            return Finding(
                place=first, message=self.message,
                evidence="the manifest does not satisfy what the policy asks here",
                do=self.remedy or f"put right what {self.id} asks, or write down what is fitted",
                related=(*here, *more),
            )  # fmt: skip
        if told.silent:
            silence, *rest = dict.fromkeys(told.silent)
            also = [one.lacks for one in rest[:3]] + ([f"and {len(rest) - 3} more"] if len(rest) > 3 else [])
            return Unproven(
                place=silence.place, message=f"{silence.lacks}, and the club asks about it", do=silence.do,
                evidence="; ".join(also), related=here, on_paper=True,
            )  # fmt: skip
        return Clear("the manifest satisfies what the policy asks")


def no_deferrals(file: str) -> Rule:
    """The rule of a policy that forbids deferrals."""

    def judge(deferral: Deferral, _: Context) -> Outcome:
        return Finding(
            place=deferral.place,
            message="the club lets nobody put a defect off: this entry sets nothing aside",
            evidence=f"{deferral.rule.value}, deferred by {deferral.by.value}",
            do="put the defect right, then delete the entry",
        )

    manual = f"Is a defect put off though the club forbids it?\n\nThe entry has no effect on what grounds. {_MANUAL}"
    source = f"club policy, {file}"
    return _rule(judge, "club/no-deferrals", ADVISORY, Job.RECORD, PACK_UNPLUGGED, source, manual, "deferral")


def _rule(
    judge: Judge, id: str, severity: Severity, job: Job, precaution: str, source: str, manual: str,
    each: Each = "aircraft", needed_for_flight: bool = False,
) -> Rule:  # fmt: skip
    info = RuleInfo(
        id=id, each=each, severity=severity, job=job, precaution=Precaution.of(precaution),
        source=source, needed_for_flight=needed_for_flight, tolerances=(), docstring=manual,
    )  # fmt: skip
    return Rule(info, judge)
