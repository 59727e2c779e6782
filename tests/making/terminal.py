"""Somebody at a real terminal of 24 lines and 80 columns: what is typed there, what is shown, and what it takes."""

import datetime as dt
import re
import shlex
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pexpect  # type: ignore[import-untyped]
import pyte

import preflint
from making.program import PROGRAM, run
from making.sitting import Sitting

LINES, COLUMNS = 24, 80
_SIGNS = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
_PROMPT = r"[\r\nh](?:\d+ |yes or no |Take this\? yes or no )?> "

ENOUGH = "no "
"""Answers the question whether to go on."""

Answer = str | tuple[str, ...]
"""What is typed at a question; of readings the rows, which an empty line ends."""

HEAD = f"{'session':<38}" + "".join(
    f"{word:>10}" for word in ("commands", "edits", "answers", "rows", "questions", "refused", "lines", "longest")
)


@dataclass
class Counted:
    """What was typed and shown: ``lines`` on the screen, scrolled away or not; ``longest`` of them in columns."""

    commands: int = 0
    edits: int = 0
    answers: int = 0
    rows: int = 0
    questions: int = 0
    refused: int = 0
    lines: int = 0
    longest: int = 0

    def row(self, name: str) -> str:
        """A line below ``HEAD``."""
        return f"{name:<38}" + "".join(f"{number:>10}" for number in vars(self).values())


@dataclass
class Person:
    """Somebody in a folder with one aircraft, who knows the answers.

    knows: what is answered, by "Record: Question", else by the question's own title; of movements "Record, movement".
    in_shell: whether a shell starts what is typed, and not only a program that is loaded already.
    """

    folder: Path
    knows: Mapping[str, Answer]
    counted: Counted = field(default_factory=Counted)
    in_shell: bool = False

    def types(self, command: str, code: int = 0) -> str:
        """Types a command, answers all it asks, and gives back what was shown. Everything loads after each answer."""
        self.counted.commands += 1
        child, seen = self.begins(command), ""
        while True:
            child.expect([_PROMPT, pexpect.EOF] if "inspect" not in command else [pexpect.EOF])
            seen += child.before + (child.after if isinstance(child.after, str) else "")
            if child.after is pexpect.EOF:
                break
            assert "No: " not in plain(seen).rpartition("\n\n")[2], plain(seen)[-1500:]
            self.loads()
            self.answers(child, plain(seen))
        child.close()
        self.loads()
        if list(self.folder.rglob("*.airframe.yaml")):
            assert run("inspect", ".", cwd=self.folder).returncode in (0, 1)
        self.counts(seen)
        assert child.exitstatus == code, plain(seen)
        return plain(seen)

    def begins(self, command: str) -> "pexpect.spawn[str]":
        """The command, as it was typed."""
        if not self.in_shell:
            program, *arguments = shlex.split(command)
            assert program == "preflint"
            return Sitting(arguments, self.folder, LINES, COLUMNS)
        child = pexpect.spawn(
            "/bin/sh", ["-c", f"PATH={PROGRAM.parent}:$PATH; exec {command}"], cwd=str(self.folder), encoding="utf-8",
            timeout=60, dimensions=(LINES, COLUMNS),
        )  # fmt: skip
        child.delaybeforesend = None
        return child

    def answers(self, child: "pexpect.spawn[str]", shown: str) -> None:
        """Types what the last question on the screen wants."""
        record, asked = question(shown)
        self.counted.questions += 1
        told = self.knows.get(f"{record}: {asked}", self.knows.get(asked)) or self._of_movement(record, asked)
        assert told is not None, f"nobody knows {record}: {asked}\n{shown[-1500:]}"
        for row in told[:-1] if isinstance(told, tuple) else ():
            self._line(child, row)
        if isinstance(told, tuple):
            self._line(child, told[-1])
            self.counted.rows += len(told)
            child.sendline("")
        else:
            self.counted.answers += told != ENOUGH  # by then the rung is reached
            child.sendline(told)

    def _of_movement(self, record: str, asked: str) -> str | None:
        """Of what is asked of one movement in two questions, the half that is asked now."""
        half = re.fullmatch(r"(Indicated|.+) \(([\w-]+)\)", asked)
        both = self.knows.get(f"{record}, {half[2]}") if half else None
        return (
            None
            if half is None or not isinstance(both, str)
            else both.partition(" ")[0 if half[1] == "Indicated" else 2]
        )

    def _line(self, child: "pexpect.spawn[str]", row: str) -> None:
        child.sendline(row)
        child.expect(_PROMPT)

    def loads(self) -> None:
        """What is on the disk can be read and judged, whatever was typed last."""
        for path in self.folder.rglob("*.airframe.yaml"):
            preflint.inspect(path, judged_on=dt.date.today())

    def inspects(self) -> str:
        """The screen of the aircraft; exit code 3 would say that something was not judged."""
        self.counted.commands += 1
        done = run("inspect", self.manifest.relative_to(self.folder), cwd=self.folder)
        assert done.returncode in (0, 1), done.stdout + done.stderr
        self.counts(done.stdout)
        return done.stdout

    def counts(self, seen: str) -> None:
        screen = pyte.HistoryScreen(COLUMNS, LINES, history=10_000)
        pyte.Stream(screen).feed(seen)
        self.counted.lines += len(screen.history.top) + screen.cursor.y
        self.counted.refused += plain(seen).count("\n  No: ")
        shown = [line for line in plain(seen).split("\n") if not re.match(r"(\d+ )?> ", line)]  # what was typed apart
        self.counted.longest = max(self.counted.longest, *map(len, shown))

    @property
    def manifest(self) -> Path:
        """The one that lies in the folder."""
        [path] = self.folder.rglob("*.airframe.yaml")
        return path


def plain(seen: str) -> str:
    """What was shown, without the signs for the terminal."""
    return _SIGNS.sub("", seen).replace("\r", "")


def question(shown: str) -> tuple[str, str]:
    """The record that is being asked for, and the title of the question that stands last."""
    paragraphs = [" ".join(one.split()) for one in shown.split("\n\n")]
    last = paragraphs[-1]
    if last.endswith("yes or no >"):
        return "", re.findall(r"(Go on with [\w ]+|Take this)", last)[-1]
    heads = [one for paragraph in paragraphs if (one := re.match(r"([A-Z][\w-]*(?: [\w-]+)*): [a-z]", paragraph))]
    asked = re.match(r"([^.\[]+)(?: \[[^\]]+\])?\. ", last + " ")
    assert asked, last
    return heads[-1][1] if heads else "", asked[1].strip()


def ctrl_c(child: pexpect.spawn) -> None:
    """Typed when the question stands: a signal in the moment in which reading begins is only seen at the next key."""
    told, before = Path(f"/proc/{child.pid}/stat"), [""]
    for _ in range(10):
        time.sleep(0.05)
        now = told.read_text().rpartition(")")[2].split() if told.exists() else ["?"]
        if now[0] == "S" and now == before:  # it sleeps, and has done nothing since the last look
            break
        before = now
    child.sendintr()


class Typist:
    """Somebody who types line after line at a terminal of 80 columns, whatever is asked."""

    def __init__(self, folder: Path, *command: object) -> None:
        self.child = Sitting(command, folder, 40, 80, echo=False)
        self.seen = ""
        self.answers = 0

    def reads(self, text: str) -> None:
        self.child.expect_exact(text)
        self.seen += self.child.before + self.child.after

    def types(self, *lines: str) -> None:
        for line in lines:
            self.reads("> ")
            self.child.sendline(line)
            self.answers += 1

    def ends(self, code: int) -> str:
        """All that was seen, without the signs that move the cursor."""
        self.child.expect(pexpect.EOF)
        self.seen += self.child.before
        self.child.close()
        assert self.child.exitstatus == code, self.seen
        return plain(self.seen)
