"""A summary in Markdown, for a pull request or the page of a CI run: the table first, then what grounds whom."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import get_args

from preflint.aircraft.field import Known
from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_one
from preflint.findings.report import Report
from preflint.findings.result import Verdict
from preflint.places import Place
from preflint.render.entries import Entry, failed, found, open_for_flight
from preflint.render.escape import printable
from preflint.render.page import VERDICTS, number
from preflint.render.remarks import NO_ANSWER, nothing_answered, remark, shown, summary, whole
from preflint.render.table import NOT_READ, worst

LONGEST = 60_000
"""Characters; forges refuse comments that are not much longer."""

_HEAD = ("| Aircraft | Owner | Verdict | Worst | Next job |", "|---|---|---|---|---|")
_ORDER: tuple[Verdict, ...] = get_args(Verdict)
_CELL = 400
_PLAIN = frozenset(",;/%?'\"=")


def render_markdown(report: Report) -> str:
    """Nothing that was read becomes a link, an image, HTML or a mention; what does not fit is counted."""
    by_verdict = sorted(report.aircraft, key=lambda one: _ORDER.index(one.verdict))
    end = [*(escaped(sentence) for sentence in summary(report)),
           "A verdict is no permission: the pilot decides, and local rules come first."]  # fmt: skip
    room = LONGEST - sum(map(len, end)) - 1000
    no_go = report.counts.verdicts["no-go"]
    rows = [*map(_row, by_verdict)]
    rows[no_go:no_go] = map(_unread_row, report.not_read)  # nothing is known about it
    table, left = _fitting(rows, room // 2)
    lines = ["## Preflight records", "", *_HEAD, *table]
    if left:
        lines += ["", f"{number(left, 'more row')} did not fit."]
    shared = _shared(by_verdict)
    details = [*map(_unread, report.not_read), *(_detail(one, shared) for one in by_verdict)]
    details += ["- " + escaped(note.message) for note in report.notes]
    details = [text for text in details if text]
    shown_details, left = _fitting(details, room - sum(map(len, lines)))
    for text in shown_details:
        lines += ["", text]
    if left:
        lines += ["", f"The details of {number(left, 'more file')} did not fit; the full report has them."]
    return "\n".join([*lines, "", *(f"{sentence}  " for sentence in end[:-1]), end[-1]]) + "\n"


def escaped(text: str) -> str:
    """One line that Markdown shows as it is: no link, image, HTML, mention, reference to an issue or heading."""
    line = re.sub(r" +", " ", printable(text))
    return re.sub(r"[@#]+|[^\w\s]|_", lambda sign: _sign(sign[0]), line)


def fenced(text: str) -> str:
    """Lines shown as they are, in a block of their own."""
    lines = [printable(line) for line in text.splitlines()]
    longest = max((len(run) for line in lines for run in re.findall("`+", line)), default=0)
    fence = "`" * max(3, longest + 1)
    return "\n".join([f"{fence}yaml", *lines, fence])


def _sign(sign: str) -> str:
    # A forge makes a mention of @name and a reference of #1 even where a backslash stands before; not in code.
    if sign[0] in "@#":
        return f"`{sign}`"
    return f"\\{sign}" if sign.isascii() and sign not in _PLAIN else sign


def _fitting(texts: Iterable[str], room: int) -> tuple[list[str], int]:
    """Those at the beginning that fit, and how many are left."""
    texts = list(texts)
    used = 0
    for i, text in enumerate(texts):
        used += len(text) + 2
        if used > room:
            return texts[:i], len(texts) - i
    return texts, 0


def _row(one: Inspected) -> str:
    owner = one.about.owner
    job = next_one(one)
    cells = [
        one.about.name.value,
        owner.value if isinstance(owner, Known) else "-",
        VERDICTS[one.verdict],
        worst(one) or "-",
        _first_and_then(job) if job else "-",
    ]
    return f"| {' | '.join(map(_cell, cells))} |"


def _first_and_then(job: NextJob) -> str:
    return ". Then: ".join([*(one.removesuffix(".") for one in job.precaution.sentences[:1]), job.do])


def _unread_row(item: NotRead) -> str:
    message = item.problems[0].message if item.problems else "-"
    cells = item.file, item.legible.owner or "-", NOT_READ, message, "put the file right"
    return f"| {' | '.join(map(_cell, cells))} |"


def _cell(text: str) -> str:
    line = printable(text)
    return escaped(line if len(line) <= _CELL else f"{line[:_CELL]} ...")


def _unread(item: NotRead) -> str:
    whose = shown(", ".join([item.file, *item.legible.told]))
    lines = [f"### {escaped(whose)}: {NOT_READ}, so not judged", ""]
    for problem in item.problems:
        place = problem.place or whole(item.file)
        lines.append(f"- {escaped(f'{place.file}:{place.line}:{place.column}')}: {escaped(shown(problem.message))}")
    return "\n".join(lines)


_Shared = Mapping[tuple[str, str, tuple[Place, ...]], Sequence[str]]
"""By rule, word and places: the names of the aircraft of which it is told, in the order of the report."""


def _shared(aircraft: Iterable[Inspected]) -> _Shared:
    """What is found at the same places of a shared file, by aircraft: it is told of the first."""
    told: dict[tuple[str, str, tuple[Place, ...]], list[str]] = {}
    for one in aircraft:
        for entry in _told(one):
            told.setdefault(_key(one, entry), []).append(one.about.name.value)
    return told


def _told(one: Inspected) -> Iterator[Entry]:
    yield from found(one)
    yield from open_for_flight(one)


def _key(one: Inspected, entry: Entry) -> tuple[str, str, tuple[Place, ...]]:
    said = remark(entry.results[0], one)
    assert said is not None  # an entry is made of findings or of open questions
    return said.rule, said.word, entry.places


def _detail(one: Inspected, shared: _Shared) -> str:
    """Findings, what flight needs and is not proven, failures; "" where there is none of them."""
    items = [line for entry in _told(one) for line in _entry(one, entry, shared[_key(one, entry)])]
    items += [
        f"- **broke down** {escaped(shown(f'{rule} {at or str()}: {message}'))}" for rule, at, message in failed(one)
    ]
    if nothing_answered(one):
        items.append(f"- {escaped(NO_ANSWER)}")
    if not items:
        return ""
    return "\n".join([f"### {escaped(one.about.name.value)}: {VERDICTS[one.verdict]}", "", *items])


def _entry(one: Inspected, entry: Entry, of: Sequence[str]) -> Iterator[str]:
    """``of``: the aircraft of which it is true; of others than the first it is told in a word."""
    said = remark(entry.results[0], one)
    assert said is not None
    if of[0] != one.about.name.value:
        yield f"- **{said.word}** {escaped(shown(f'as told of {of[0]}'))}"
        return
    told = "; ".join(f"{', '.join(at)}: {message}" if at else message for message, at in entry.messages.items())
    places = ", ".join(f"{p.file}:{p.line}:{p.column}" for p in entry.places)
    where = f"({places}, {', '.join(entry.rules)})"
    also = f"; also of {', '.join(of[1:])}" if of[1:] else ""
    yield f"- **{said.word}** {escaped(shown(told))} {escaped(where + also)}"
    yield from (f"  - {escaped(line)}" for line in said.advice)
