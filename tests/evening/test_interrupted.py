"""An evening that ends in the middle of any question: nothing lost, nothing half-written, and it goes on there."""

from pathlib import Path

import pexpect
import pytest
from making.benches import LOG, QUAD_X, somebody
from making.full import FULL
from making.terminal import Person, ctrl_c, plain, question

import preflint

TERN = {**QUAD_X, "Name": "Tern", "Fitted": "power compass barometer"}
_PROMPT = r"[\r\nh](?:\d+ |yes or no |Take this\? yes or no )?> "
RUNGS = 3 if FULL else 1


@pytest.fixture
def person(tmp_path: Path) -> Person:
    (tmp_path / "logs").mkdir()
    (tmp_path / "logs" / "run.csv").write_text(LOG)
    return Person(tmp_path, somebody(TERN, RUNGS))


def files(person: Person) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in person.folder.iterdir() if path.is_file()}


def test_ctrl_c_in_the_middle_of_every_question(person: Person) -> None:
    """Each sitting answers one question, begins to answer the next, and is ended there."""
    command, ended = "preflint draft --ask --layout quad-x --name Tern", 0
    while True:
        child, seen, new = person.begins(command), "", 0
        while child.expect([_PROMPT, pexpect.EOF]) == 0:
            seen += child.before + child.after
            asked = question(plain(seen))
            # Asked once in each sitting, or only there because a sitting goes on.
            new += asked[1] not in ("Props", "Go on with meter", "Go on with load")
            if new > 1:
                break
            person.answers(child, plain(seen))
        else:
            child.close()
            assert child.exitstatus == 0
            break
        before = files(person)
        child.send("cw c")
        child.expect_exact("cw c")
        ctrl_c(child)
        child.expect("Go on with:\r?\n  (preflint draft --ask [^\r\n]*)\r?\n")
        command = child.match[1]
        child.expect(pexpect.EOF)
        child.close()
        ended += 1
        assert child.exitstatus == 130
        assert files(person) == before
        person.loads()
    assert ended > (40 if FULL else 20)
    assert (preflint.inspect(person.manifest).verdict == "go") is FULL
    assert b"begun:" not in files(person)["tern.airframe.yaml"]
