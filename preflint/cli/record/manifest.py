"""The manifest that a record goes into, what was told of the record so far, and the way back to the disk."""

import datetime as dt
import posixpath
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import Records
from preflint.check.near import suggestion
from preflint.errors import NotRead, Problem, UsageError
from preflint.inspection import read_aircraft
from preflint.interface import now
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.quoting import as_argument, show
from preflint.load.tables.table import Table, read_table
from preflint.load.tree import Tree
from preflint.places import Place
from preflint.precautions import PRECAUTION_OF_ROUTE, Precaution
from preflint.writing.asked import CLASSES, LOG, asked, known_names
from preflint.writing.entry import Value, entries
from preflint.writing.facts import Facts
from preflint.writing.insert import insert
from preflint.writing.questions import NoSense, Question, precaution, question, questions, title_of
from preflint.writing.reduced import HOVER_COLUMNS, MOST_ROWS, column_names, copied, hover_means, told_steps
from preflint.writing.save import save, writable
from preflint.writing.template import template

TABLE = "table"
_MINUTE = dt.timedelta(minutes=1)  # to which a date in a manifest is written
_ROWS = "rows"  # what people call it
_TOLD_FIRST = ("date", "at", "kind", "part")  # they decide what else is asked
_NEED_NOT_BE_SAID = ("at", "note")  # of an entry of the logbook


def _moment(aircraft: Aircraft, kind: str) -> Moment:
    """Now; a minute on where this very minute has what must come before: work before records, and one of the kind."""
    clock = now().replace(second=0, microsecond=0)
    kinds = Records.kinds() if kind == LOG else (kind,)
    before = [one.date.value for each in kinds for one in aircraft.records.of_kind(each)]
    before += [entry.date.value for entry in aircraft.logbook]
    moment = Moment(clock.date(), clock.time())
    while moment in before and clock.date() == (clock + _MINUTE).date():
        clock += _MINUTE
        moment = Moment(clock.date(), clock.time())
    return moment


class DoesNotFit(Exception):
    """With the record the manifest would not load; ``problems`` has why."""

    def __init__(self, problems: NotRead) -> None:
        self.problems = problems
        super().__init__(str(problems))


@dataclass(slots=True)
class Manifest:
    """``answers`` by dotted names; ``left_out`` what is not known; ``reduced``: what a log comes down to, in lines.

    ``written`` is the text that the file was to have with the record.
    """

    tree: Tree
    name: str
    text: bytes
    path: Path
    kind: str
    aircraft: Aircraft
    facts: Facts
    answers: dict[str, Value] = field(default_factory=dict)
    left_out: set[str] = field(default_factory=set)
    reduced: tuple[str, ...] = ()
    written: bytes | None = None

    @classmethod
    def read(cls, path: Path, kind: str, given: tuple[str, ...], log: Path | None, date: str | None) -> "Manifest":
        """Reads the file and what the options tell. Raises NotRead, UsageError."""
        if kind not in CLASSES:
            raise UsageError(f"no kind of record is called {kind}; {suggestion(kind, CLASSES)}")
        tree = Tree.around(path)
        name = tree.name(path)
        text = tree.read(name, MAX_YAML_BYTES)
        aircraft = read_aircraft(replace(tree, unsaved={name: text}), name)
        made = cls(tree, name, text, path, kind, aircraft, Facts.of(aircraft, _moment(aircraft, kind)))
        made._take_date(date)
        for option in sorted(given, key=lambda option: option.partition("=")[0] not in _TOLD_FIRST):
            made._take(option)
        if any(told.startswith("reference.") for told in made.answers):  # never an instrument mixed of two
            made.facts = replace(made.facts, references={})
        if log is not None:
            made._take_log(log)
        return made

    @property
    def title(self) -> str:
        return title_of(self.kind)

    @property
    def next_command(self) -> str:
        return f"preflint inspect {as_argument(str(self.path))}"

    @property
    def mind(self) -> Precaution:
        """What to mind while it is done: by the route, where that is told."""
        return PRECAUTION_OF_ROUTE.get(self.answers.get("route", ""), precaution(self.kind))

    def open_questions(self) -> tuple[Question, ...]:
        """What neither the manifest nor anybody has told yet."""
        return tuple(
            one
            for one in questions(self.kind, self.facts, self.answers)
            if one.known is None and one.name not in self.left_out
        )

    def missing(self) -> list[str]:
        """The options that would answer them."""
        names = [one.name for one in self.open_questions()]
        if self.kind == LOG:
            names = [name for name in names if name not in _NEED_NOT_BE_SAID]
        return [f"--set {_ROWS}=... (or --from FILE.csv)" if name == TABLE else f"--set {name}=..." for name in names]

    def answer(self, one: Question, value: Value | None) -> None:
        """Keeps it. Raises NoSense for the name of a log that cannot be read."""
        if one.columns and value and "file" in value:
            self._look_at_log(value["file"], one.columns)
        if value is None:
            self.left_out.add(one.name)
        else:
            self.answers[one.name] = value

    def lines(self) -> tuple[str, ...]:
        """The lines as they would stand below ``records:`` or ``logbook:``, with blanks where something is missing."""
        lines = template(self.kind, self.facts, self.answers, self.left_out)
        return tuple(line[2:] for line in lines[1:]) if self.kind == LOG else lines

    def look_ahead(self) -> None:
        """Refuses what could not be written in the end, before anybody is asked. Raises NotRead, OutputError."""
        writable(self.tree, self.name)
        insert(self.text, self.tree.shown(self.name), self.kind, [{"date": self.facts.now}])

    def write(self, over: bytes | None = None) -> Place:
        """Adds the record to the file, which holds ``over`` now. Raises DoesNotFit, NotRead, OutputError."""
        made = entries(self.kind, self.facts, self.answers, self.left_out)
        after, place = insert(self.text, self.tree.shown(self.name), self.kind, made)
        try:
            read_aircraft(replace(self.tree, unsaved={self.name: after}), self.name)
        except NotRead as error:
            raise DoesNotFit(error) from None
        self.written = after
        save(self.tree, self.name, self.text if over is None else over, after)
        return place

    def is_written(self) -> bool:
        """Whether the file is that of ``write``; False where it never came to that."""
        try:
            return self.written is not None and self.tree.read(self.name, MAX_YAML_BYTES) == self.written
        except NotRead:
            return False

    # What the options tell

    def _take_date(self, date: str | None) -> None:
        if date is not None:
            try:
                self.facts = Facts.of(self.aircraft, question(self.kind, "date", self.facts).read(date))
            except NoSense as why:
                raise UsageError(f"--date {date}: {why}") from None

    def _take(self, option: str) -> None:
        name, sign, told = option.partition("=")
        if not sign:
            raise UsageError(f"--set {option}: write NAME=VALUE, as in props=removed")
        try:
            self._take_value(TABLE if name in (_ROWS, "file") else name, told)
        except NoSense as why:
            raise UsageError(f"--set {option}: {why}") from None
        except KeyError:
            known = [_ROWS if one == TABLE else one for one in known_names(self.kind)]
            raise UsageError(f"--set {option}: {self.kind} has no {name}; {suggestion(name, known)}") from None

    def _take_value(self, name: str, told: str) -> None:
        base, _, at = name.rpartition(".")
        if name == "date":
            return self._take_date(told)
        if base and at in self.facts.positions:
            one = question(self.kind, base, self.facts, self.answers)
            if one.positions:
                if at in self.answers.get(base, {}):
                    raise NoSense("this is set twice; keep one of them")
                value = replace(one, positions=(at,)).read(told)
                self.answers[base] = {**self.answers.get(base, {}), **(value or {})}
                return None
        if name in self.answers or name in self.left_out:
            raise NoSense("this is set twice; keep one of them")
        one = question(self.kind, name, self.facts, self.answers)
        self.answer(one, one.read(told.replace(";", "\n") if one.columns else told))
        return None

    def _take_log(self, log: Path) -> None:
        table = next((one for one in asked(self.kind) if one.name == TABLE), None)
        if self.kind != "hover" and table is None:
            raise UsageError(f"--from {log}: a {self.title.lower()} has no readings in columns")
        if TABLE in self.answers:
            raise UsageError(f"--from {log}: --set {_ROWS} tells the readings already; keep one of them")
        wanted = table.said.columns if table else HOVER_COLUMNS
        inside, tree, name = self._where(log)
        try:
            read = read_table(tree, name, wanted)
        except NotRead as error:
            hint = Problem(f"wanted are the columns {column_names(wanted)}")
            raise NotRead(error.file, [*error.problems, hint]) from None
        if table is None:
            means, self.reduced = hover_means(read)
            self.answers = {**means, **self.answers}
            return
        self.reduced = told_steps(read)
        self.answers[TABLE] = {"file": inside} if inside else self._copied(read, log)

    def _look_at_log(self, reference: str, wanted: Sequence[str]) -> None:
        try:
            self.reduced = told_steps(read_table(self.tree, self.tree.resolve(self.name, reference), wanted))
        except NotRead as error:
            why = "; ".join(problem.message for problem in error.problems[:3])
            raise NoSense(f"{show(reference)}: {why}") from None

    def _where(self, log: Path) -> tuple[str | None, Tree, str]:
        """Its name as the manifest writes it, where it lies in the tree; and where it is read."""
        try:
            name = self.tree.name(log)
        except NotRead:
            folder = Tree(log.parent.resolve(), None)
            return None, folder, log.name
        return posixpath.relpath(name, posixpath.dirname(self.name) or "."), self.tree, name

    def _copied(self, read: Table, log: Path) -> Mapping[str, Value]:
        if read.rows_read > MOST_ROWS:
            raise UsageError(
                f"--from {log}: {read.rows_read} rows are too many to copy, and the file is not in the folder of the "
                f"manifest; put it there, as in logs/{log.name}"
            )
        return copied(read)
