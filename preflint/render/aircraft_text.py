"""The part of a text report that is about one aircraft."""

from collections.abc import Sequence
from typing import get_args

from preflint.aircraft.model import name
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_jobs, precautions
from preflint.findings.outcome import CAUTION, NO_GO, Finding, Unproven
from preflint.findings.result import Result, Verdict
from preflint.glossary import GLOSSARY
from preflint.precautions import Job
from preflint.render.entries import Entry, failed, found, not_needed, open_for_flight
from preflint.render.page import Page, number
from preflint.render.plan import Mark, plan
from preflint.render.told import Told

_SHOWN_JOBS = 3  # or as many as are pressing

VERDICTS = {verdict: GLOSSARY[verdict].shown for verdict in get_args(Verdict)}


class AircraftText:
    """One aircraft. Findings and open questions are numbered through, so that jobs can name them."""

    def __init__(self, page: Page, inspected: Inspected) -> None:
        self.page = page
        self.inspected = inspected
        self.findings = found(inspected)
        self.open = open_for_flight(inspected)
        self.numbers = {
            id(result): i
            for i, entry in enumerate([*self.findings, *self.open], 1)
            for result in entry.results
        }
        put_off = [entry.result for entry in inspected.deferred]
        between = [job for job in next_jobs(inspected) if _is_between(job, put_off)]
        shown = sorted(between, key=lambda job: not _is_pressing(job))[:_SHOWN_JOBS]  # these, then the earliest
        self.jobs = [job for job in between if job in shown or _is_pressing(job)]
        self.others = len(between) - len(self.jobs)
        self.told = Told()

    def write(self) -> None:
        """Everything about the aircraft, in the order in which it is read."""
        self._verdict()
        self.page.gap()
        self.page.lines += plan(self.inspected.aircraft, self._marks(), self.page.width)
        for entry in self.findings:
            self.page.gap()
            self._finding(entry)
        self._not_proven()
        self._failed()
        self._unjudged()
        self._jobs()

    def _verdict(self) -> None:
        word = VERDICTS[self.inspected.verdict]
        about = self.inspected.aircraft.about
        indent = " " * (len(word) + 2)
        self.page.say(f"{self.page.quote(about.name.value)}, {about.layout.value}", f"{word}  ", indent, word)
        self.page.say(self.page.quote(self.inspected.manifest), indent)
        given = [r.rule.severity for r in self.inspected.results if isinstance(r.outcome, Finding)]
        parts = [f"{given.count(severity)} {severity}" for severity in sorted(set(given), reverse=True)]
        said = [f"Found: {', '.join(parts)}." if parts else "Nothing found."]
        broken = failed(self.inspected)
        if self.open:
            is_or_are = "is" if len(self.open) == 1 else "are"
            said.append(f"{number(len(self.open), 'thing')} that flight needs {is_or_are} not proven.")
        if broken:
            said.append(f"{number(len(broken), 'rule')} broke down.")
        if self.inspected.verdict == "unproven" and not self.open and not broken:
            said.append("Nothing that flight needs was asked and answered.")
        self.page.say(" ".join(said), indent)

    def _marks(self) -> dict[str, Mark]:
        marks: dict[str, Mark] = {}
        for position in self.inspected.aircraft.positions:
            here = [e for e in self.findings if position in self._concerns(e)]
            worst = max((r.rule.severity for e in here for r in e.results), default=None)
            open_here = any(position in e.at for e in self.open)
            sign = "X" if worst == NO_GO else "!" if worst else "?" if open_here else "o"
            marks[position] = Mark(sign, tuple(self.numbers[id(e.results[0])] for e in here))
        return marks

    def _concerns(self, entry: Entry) -> set[str]:
        """The rotors that a finding is about, and those that it points at, but for those of mere comparison."""
        outcomes = [r.outcome for r in entry.results if isinstance(r.outcome, Finding)]
        pointed = [*entry.places, *(one.place for o in outcomes for one in o.related if not one.compared)]
        return set(entry.at) | {
            name(rotor)
            for rotor in self.inspected.aircraft.rotors
            for place in pointed
            if place.file == rotor.place.file and f"{place.pointer}/".startswith(f"{rotor.place.pointer}/")
        }

    def _where(self, positions: Sequence[str]) -> str:
        everywhere = self.inspected.aircraft.positions
        if len(positions) > 1 and set(positions) == set(everywhere):
            return "every rotor: "
        return f"{', '.join(positions)}: " if positions else ""

    def _finding(self, said: Entry) -> None:
        result = said.results[0]
        finding = result.outcome
        assert isinstance(finding, Finding)
        key, word = f"[{self.numbers[id(result)]}]", str(result.rule.severity).upper()
        self._messages(said, f"{key} {word}  ", word)
        self._line("Where", self._places(said))
        self._grounds(said)
        self._related(said)
        self._then(said, finding.do, key)
        for item in self.inspected.deferred:
            if item.result in said.results:
                entry = item.deferral
                by, because = self.page.quote(entry.by.value), self.page.quote(entry.because.value)
                self._line(
                    "Until",
                    f"{entry.until.value.date}, deferred by {by}: {because} ({self.page.at(entry.place)})",
                )

    def _messages(self, entry: Entry, start: str, word: str = "", end: str = "") -> None:
        """Each message with its rotors, the first behind ``start`` and the last before ``end``."""
        messages = list(entry.messages.items())
        for i, (message, at) in enumerate(messages):
            last = end if i == len(messages) - 1 else ""
            self.page.say(f"{self._where(at)}{message}{last}", "    " if i else start, "    ", "" if i else word)

    def _grounds(self, entry: Entry) -> None:
        grounds = entry.grounds
        for evidence, at in grounds.items():
            self._line("Why", f"{self._where(at)}{evidence}" if len(grounds) > 1 else evidence)

    def _places(self, entry: Entry) -> str:
        return f"{', '.join(self.page.at(place) for place in entry.places)} ({', '.join(entry.rules)})"

    def _related(self, entry: Entry) -> None:
        for message, places in entry.related.items():
            self._line("See", f"{', '.join(self.page.at(place) for place in places)} {message}")

    def _line(self, label: str, text: str) -> None:
        if text:
            self.page.say(text, f"    {label + ':':<6} ", " " * 11)

    def _then(self, entry: Entry, todo: str, key: str) -> None:
        self._line("First", self.told.say(precautions(entry.results, {todo}), f"at {key}"))
        self._line("Then", todo)

    def _not_proven(self) -> None:
        if self.open:
            self.page.gap()
            self.page.say("NOT PROVEN, and flight needs it")
        for entry in self.open:
            self._open_question(entry)
        topics = not_needed(self.inspected)
        if topics:
            self.page.gap()
            self.page.say("Not known either, though flight does not need it:")
        for topic, results in topics.items():
            asked = list(dict.fromkeys(r.rule.name.replace("-", " ") for r in results))
            more = f" and {len(asked) - 6} more" if len(asked) > 6 else ""
            self.page.say(f"{topic.replace('_', ' ')}: {', '.join(asked[:6])}{more}", "    ", "      ")

    def _open_question(self, entry: Entry) -> None:
        unproven = entry.results[0].outcome
        assert isinstance(unproven, Unproven)
        key = f"[{self.numbers[id(entry.results[0])]}]"
        told = next((e for e in self.findings if _is_about_the_record_of(e, unproven)), None)
        if told:
            waits = "wait" if len(entry.rules) > 1 else "waits"
            see = f"{waits} for the record that [{self.numbers[id(told.results[0])]}] is about"
            self.page.say(f"{self._where(entry.at)}{', '.join(entry.rules)} {see}", f"{key} ? ", "    ")
            return
        self._messages(entry, f"{key} ? ", end=f"; {self._places(entry)}")
        self._grounds(entry)
        self._related(entry)
        settled_by = (i for i, job in enumerate(self.jobs, 1) if all(r in job.results for r in entry.results))
        if job := next(settled_by, None):
            self._line("Then", f"job {job} below")
        else:
            self._then(entry, unproven.do, key)

    def _failed(self) -> None:
        items = failed(self.inspected)
        if items:
            self.page.gap()
            self.page.say("BROKE DOWN: rules that failed by themselves, so what they ask is open")
        for rule, where, message in items:
            self.page.say(f"{rule}{f' at {where}' if where else ''}: {message}", "    ", "      ")

    def _unjudged(self) -> None:
        named = dict.fromkeys(one.what for one in self.inspected.unjudged if one.why == "no-rule")
        if named:
            self.page.gap()
            self.page.say(f"Recorded and not judged, since no rule reads it: {', '.join(named)}.", "", "    ")

    def _jobs(self) -> None:
        self.page.gap()
        if not self.jobs:
            self.page.say("No job is open before the pilot's own last look.")
            return
        count = {1: "JOB", 2: "TWO JOBS", 3: "THREE JOBS"}
        self.page.say(f"THE NEXT {count.get(len(self.jobs)) or f'{len(self.jobs)} JOBS'}")
        told = Told()  # a job is done with this list in the hand, not with what stands above
        for i, job in enumerate(self.jobs, 1):
            self._job(i, job, told)
        if self.others:
            self.page.say(f"{number(self.others, 'more job')} besides; --format json lists all in order.")

    def _job(self, i: int, job: NextJob, told: Told) -> None:
        settled = sorted({self.numbers[id(r)] for r in job.results if id(r) in self.numbers})
        keys = f" {''.join(f'[{n}]' for n in settled)}" if settled else ""
        said = told.say(job.precaution, f"for job {i}")
        if said:
            self.page.say(said, f" {i}. ")
        self.page.say(f"{self._where(job.at)}{job.do}{keys}", "    " if said else f" {i}. ", "    ")


def _is_pressing(job: NextJob) -> bool:
    """Whether it is shown whatever else is: a no-go's, and the look after a mishap, which comes before all of them."""
    return job.severity == NO_GO or job.stage is Job.FIRST_LOOK


def _is_between(job: NextJob, put_off: Sequence[Result]) -> bool:
    """Whether the job stands between the aircraft and a flight without reserve; a deferred one does not."""
    if job.needed_for_flight:
        return True
    return any(
        isinstance(r.outcome, Finding) and r.rule.severity >= CAUTION and r not in put_off
        for r in job.results
    )


def _is_about_the_record_of(finding: Entry, unproven: Unproven) -> bool:
    """Whether a finding has said already that the record no longer speaks."""
    outcome = finding.results[0].outcome
    again = isinstance(outcome, Finding) and outcome.again
    return again and unproven.cause in ("stale", "order-open") and unproven.place in finding.places
