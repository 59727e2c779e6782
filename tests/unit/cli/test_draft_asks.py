"""``preflint draft --ask`` on a real terminal: from nothing to a judged aircraft, and an end in the middle of it."""

import json
import re
from pathlib import Path

import pytest
from making.benches import LOG
from making.full import FULL
from making.program import run
from making.terminal import Typist, ctrl_c

NEW = ("Wheatear", "quad-plus", "power compass barometer")
BENCH = (
    "compass barometer",  # relied on
    "nut",
    "cw ccw cw ccw", "up up up up",  # props
    "cw ccw cw ccw", "runs-on runs-on runs-on runs-on",
    "removed", "cw ccw cw ccw",  # spins
    "front right rear left",  # outputs
    "nose-down front", "right-down right", "turned-right front rear",
    "nose-down rear", "right-down left", "turned-right right left", "throttle-up all", "-", "no",
    "yes", "0.8", "no",
    "yes",
)  # fmt: skip
METER = (
    "1420", "950", "6.2", "pack-voltage", "14.0", "tells", "4", "lipo",
    "no", "0.2", "0.01", "16.67 16.68", "15.77 15.78", "14.87 14.88", "",
    "991.6", "991.3", "0.5",
)  # fmt: skip
LOAD = (
    "26.4", "330", "-0.1116 0.2307 -0.0478", "54.4", "-2.9", "150", "14",
    "1", "0 0.6", "45 46.1", "90 91.5", "135 136.0", "180 179.6", "225 224.1", "270 268.8", "315 313.9", "",
    "restrained", "1", "0.1", "0 0.0 0.0", "25 2.8 2.8", "40 6.3 6.3", "55 10.4 10.5", "70 13.9 14.0", "",
    "restrained", "raw", "no", "no", "yes", "logs/run.csv",
)  # fmt: skip


class Asked(Typist):
    """At ``draft --ask``."""

    def __init__(self, folder: Path, *options: str) -> None:
        super().__init__(folder, "draft", "--ask", *options)


def judged(folder: Path) -> dict[str, object]:
    done = run("inspect", ".", "--format", "json", cwd=folder)
    [aircraft] = json.loads(done.stdout)["aircraft"]
    return aircraft  # type: ignore[no-any-return]


def rungs(folder: Path) -> dict[str, tuple[int, int]]:
    steps = judged(folder)["ladder"]
    assert isinstance(steps, list)
    return {step["rung"]: (len(step["shown"]), len(step["needed"])) for step in steps}


def test_from_nothing_to_a_judged_bench_rung(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH)
    assert typist.answers <= 25
    typist.types("no")
    seen = typist.ends(0)
    done = "Bench look done: 8 of 15 needed things shown; next step: meter, about 17 minutes."
    assert done in seen.replace("\n", " ")
    assert rungs(tmp_path)["bench-look"] == (8, 8)
    text = (tmp_path / "wheatear.airframe.yaml").read_text()
    assert "begun:" not in text
    assert text.count("    spin: ") == 4
    assert "Barometer check" not in seen
    assert seen.index("! Pack unplugged before you touch") < seen.index("! Props removed before the pack goes in")
    plain = re.sub(r"^[^>\n]*> ", r"\g<0>\n", seen, flags=re.MULTILINE)  # where the return key breaks the line
    assert max(len(line) for line in plain.split("\n")) <= 80


def test_all_rungs_to_go(tmp_path: Path) -> None:
    (tmp_path / "logs").mkdir()
    (tmp_path / "logs" / "run.csv").write_text(LOG)
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH, "yes")
    before = typist.answers
    typist.types(*METER, "yes")
    assert typist.answers - before <= 20
    before = typist.answers
    typist.types(*LOAD)
    assert typist.answers - before - 8 - 6 <= 25  # rows are read off, not answered
    seen = typist.ends(0)
    assert seen.replace("\n", " ").count("15 of 15 needed things shown") == 2, seen
    assert judged(tmp_path)["verdict"] == "go"


SPINS = len(NEW) + BENCH.index("removed") + 1


# tests/evening tries every question of the bench; here the sitting also goes on to its end.
ENDS = (0, 1, 2, 3, 5, 6, 8, SPINS, SPINS + 1, SPINS + 3, len(NEW) + len(BENCH) - 1)


@pytest.mark.parametrize("after", ENDS if FULL else ENDS[1::3])
def test_an_end_anywhere_loses_nothing_and_it_goes_on_there(after: int, tmp_path: Path) -> None:
    answers = (*NEW, *BENCH)
    typist = Asked(tmp_path)
    typist.types(*answers[:after])
    typist.reads("> ")
    ctrl_c(typist.child)
    seen = typist.ends(130)
    file = tmp_path / "wheatear.airframe.yaml"
    if after < 2:
        assert "nothing was written" in seen
        assert list(tmp_path.iterdir()) == []
        return
    assert "preflint draft --ask wheatear.airframe.yaml" in seen
    assert [path.name for path in tmp_path.iterdir()] == [file.name]
    assert run("inspect", ".", cwd=tmp_path).returncode == 1  # it loads
    second = Asked(tmp_path, file.name)
    again = ["removed"] if after >= SPINS else []  # props may have come on again between two sittings
    second.types(*again, *answers[after:], "no")
    second.ends(0)
    assert rungs(tmp_path)["bench-look"] == (8, 8)


def test_a_killed_terminal_loses_nothing_either(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH[:10])
    typist.reads("> ")
    typist.child.kill(9)
    typist.child.wait()
    second = Asked(tmp_path, "wheatear.airframe.yaml")
    second.types("removed", *BENCH[10:], "no")
    second.ends(0)
    assert rungs(tmp_path)["bench-look"] == (8, 8)


def test_what_was_seen_on_another_day_is_of_that_day(tmp_path: Path) -> None:
    """Work done between two sittings must not look older than what was seen before it."""
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH[: BENCH.index("front right rear left")], "front\u2003right rear left", "nose-down front")
    typist.reads("> ")
    ctrl_c(typist.child)
    typist.ends(130)
    file = tmp_path / "wheatear.airframe.yaml"
    begun, dates = re.subn(r"(?m)^(## begun: tilt_test date=).*$", r"\g<1>2026-05-20 10:00", file.read_text())
    assert dates == 1
    file.write_text(begun)
    second = Asked(tmp_path, file.name)
    second.reads("Told already on 2026-05-20 10:00: moves.nose-down.indicated nose-down")
    second.types("removed", *BENCH[BENCH.index("right-down right") :], "no")
    second.ends(0)
    text = file.read_text()
    assert re.search(r"tilt_test:\n +- (?:\{)?date: 2026-05-20 10:00", text)
    assert text.count("2026-05-20") == 1


def test_answers_that_nobody_dated_are_asked_again(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH[: BENCH.index("removed")])
    typist.reads("> ")
    ctrl_c(typist.child)
    typist.ends(130)
    file = tmp_path / "wheatear.airframe.yaml"
    file.write_text(file.read_text() + "## begun: spin_test seen=cw ccw cw ccw\n")
    second = Asked(tmp_path, file.name)
    second.types("removed")
    second.reads("Each one of: cw, ccw")
    ctrl_c(second.child)
    assert "Told already" not in second.ends(130)


def test_what_makes_no_sense_is_asked_again(tmp_path: Path) -> None:
    typist = Asked(tmp_path, "--layout", "quad-x", "--name", "Tern")
    typist.types("pwer", "none", "nutt", "nut", "cw", "cw|ccw ccw ccw cw")
    typist.reads("> ")
    typist.child.sendeof()
    seen = typist.ends(130)
    assert seen.count("No: ") == 4
    assert "did you mean power?" in seen
    text = (tmp_path / "tern.airframe.yaml").read_text()
    assert "  fixing: {kind: nut}" in text
    assert "power_sensing: none" in text
    assert "    # prop: {hand: cw|ccw, face: up|down}" in text


def test_a_file_that_came_while_it_asked_is_left_alone(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types("Tern")
    typist.reads("> ")
    ours = tmp_path / "tern.airframe.yaml"
    ours.write_text("mine")
    typist.child.sendline("quad-x")
    assert "File exists" in typist.ends(4)
    assert ours.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [ours]


def test_it_needs_a_terminal(tmp_path: Path) -> None:
    done = run("draft", "--ask", cwd=tmp_path, given="Tern\nquad-x\n")
    assert done.returncode == 2
    assert "--ask asks on a terminal" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_manifest_that_cannot_be_read_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "x.airframe.yaml"
    file.write_text("preflint: 1\naircraft: {name: X}\n")
    typist = Asked(tmp_path, file.name)
    typist.ends(3)
    assert file.read_text() == "preflint: 1\naircraft: {name: X}\n"


def test_nobody_is_offered_a_direction(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH, "no")
    seen = typist.ends(0)
    assert not re.search(r"For example: [^\n]*\b(cw|ccw|up|down|front)\b", seen)


def test_after_work_on_a_prop_it_asks_for_just_what_that_opened(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types(*NEW, *BENCH, "no")
    typist.ends(0)
    file = tmp_path / "wheatear.airframe.yaml"
    today = re.search(r"date: ([\d-]+)", file.read_text())
    assert today
    worked = f"\nlogbook:\n  - {{date: {today[1]} 23:59, kind: replaced, part: prop, at: rear}}\n"
    file.write_text(re.sub(r"\n# logbook:\n.*", "", file.read_text()) + worked)
    second = Asked(tmp_path, file.name)
    second.reads("Nut test")
    second.types("cw ccw cw ccw", "runs-on runs-on runs-on runs-on")
    second.reads("Rig check")
    ctrl_c(second.child)
    assert "Spin test" not in second.ends(130)


def test_what_holds_the_props_tells_what_is_asked_of_it(tmp_path: Path) -> None:
    typist = Asked(tmp_path)
    typist.types("Tern", "quad-plus", "none", "clip", "yes", "cw ccw cw ccw", "all up")
    typist.reads("Spin test")
    ctrl_c(typist.child)
    seen = typist.ends(130)
    assert "Latched" in seen
    assert "Nut test" not in seen
    text = (tmp_path / "tern.airframe.yaml").read_text()
    assert "  fixing: {kind: clip, latched: true}\n" in text
    assert text.count("face: up}") == 4
