"""All there is to tell of one aircraft, as text."""

import datetime as dt

from preflint.aircraft.field import Known
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import precautions
from preflint.findings.outcome import Finding, Unproven
from preflint.render.entries import Entry, failed, found, not_needed, open_for_flight, where
from preflint.render.head import broke_down, with_pack
from preflint.render.jobs import NO_JOB, between, first_of, say_jobs
from preflint.render.page import VERDICTS, Page, number
from preflint.render.plan import marks, plan
from preflint.render.told import Told


class Full:
    """One aircraft. Findings and open questions are numbered through, so that jobs can name them."""

    def __init__(self, page: Page, inspected: Inspected, today: dt.date) -> None:
        self.page = page
        self.today = today
        self.inspected = inspected
        self.findings = found(inspected)
        self.open = open_for_flight(inspected)
        self.numbers = {
            id(result): i for i, entry in enumerate([*self.findings, *self.open], 1) for result in entry.results
        }
        jobs = between(inspected)
        self.jobs = first_of(jobs)
        self.others = len(jobs) - len(self.jobs)
        self.told = Told()

    def write(self) -> None:
        """Everything about the aircraft, in the order in which it is read."""
        self._verdict()
        self.page.gap()
        self.page.lines += plan(self.inspected.aircraft, marks(self.inspected, self.numbers), self.page.width)
        for entry in self.findings:
            self.page.gap()
            self._finding(entry)
        self._not_proven()
        self.page.gap()
        broke_down(self.page, self.inspected)
        self._jobs()

    def _verdict(self) -> None:
        word = VERDICTS[self.inspected.verdict]
        about = self.inspected.about
        indent = " " * (len(word) + 2)
        owner = f", {self.page.quote(about.owner.value)}" if isinstance(about.owner, Known) else ", no owner recorded"
        with_ = with_pack(self.page, self.inspected)
        named = f"{self.page.quote(about.name.value)}{owner}, {about.layout.value}{with_}"
        self.page.say(named, f"{word}  ", indent, word)
        self.page.say(self.page.quote(self.inspected.manifest), indent)
        given = [r.rule.severity for r in self.inspected.results if isinstance(r.outcome, Finding)]
        parts = [f"{given.count(severity)} {severity}" for severity in sorted(set(given), reverse=True)]
        said = [f"Found: {', '.join(parts)}." if parts else "Found: nothing wrong."]
        broken = failed(self.inspected)
        if self.open:
            is_or_are = "is" if len(self.open) == 1 else "are"
            said.append(f"{number(len(self.open), 'thing')} that flight needs {is_or_are} not proven.")
        if broken:
            said.append(f"{number(len(broken), 'rule')} broke down.")
        if self.inspected.verdict == "unproven" and not self.open and not broken:
            said.append("Nothing that flight needs was asked and answered.")
        self.page.say(" ".join(said), indent)

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
            self.page.say(
                f"{where(self.inspected, at)}{message}{last}", "    " if i else start, "    ", "" if i else word
            )

    def _grounds(self, entry: Entry) -> None:
        grounds = entry.grounds
        for evidence, at in grounds.items():
            self._line("Why", f"{where(self.inspected, at)}{evidence}" if len(grounds) > 1 else evidence)

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
            self.page.say(f"{where(self.inspected, entry.at)}{', '.join(entry.rules)} {see}", f"{key} ? ", "    ")
            return
        self._messages(entry, f"{key} ? ", end=f"; {self._places(entry)}")
        self._grounds(entry)
        self._related(entry)
        settled_by = (i for i, job in enumerate(self.jobs, 1) if all(r in job.results for r in entry.results))
        if job := next(settled_by, None):
            self._line("Then", f"job {job} below")
        else:
            self._then(entry, unproven.do, key)

    def _jobs(self) -> None:
        self.page.gap()
        if not self.jobs:
            self.page.say(NO_JOB)
            return
        self.page.say("THE NEXT JOB" if len(self.jobs) == 1 else f"THE NEXT {len(self.jobs)} JOBS")
        keys = {
            i: sorted({self.numbers[id(r)] for r in job.results if id(r) in self.numbers})
            for i, job in enumerate(self.jobs, 1)
        }
        say_jobs(self.page, self.inspected, self.jobs, self.today, keys)
        if self.others:
            self.page.say(f"{number(self.others, 'more job')} besides; --detail jobs lists all in order.")


def _is_about_the_record_of(finding: Entry, unproven: Unproven) -> bool:
    """Whether a finding has said already that the record no longer speaks."""
    outcome = finding.results[0].outcome
    again = isinstance(outcome, Finding) and outcome.again
    return again and unproven.cause in ("stale", "order-open") and unproven.place in finding.places
