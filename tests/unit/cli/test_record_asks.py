"""The command on a real terminal, typed at: what it asks, what it refuses, and an end in the middle."""

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pexpect
import pytest
from making.program import PROGRAM
from making.terminal import Typist, ctrl_c

WHEN = ("--date", "2026-05-20 10:00")


class Asked(Typist):
    """At ``record``, whose lines keep to the width but for commands to copy."""

    def __init__(self, kind: str, trial: Path, *options: object) -> None:
        super().__init__(trial.parent, "record", kind, trial.name, *options)

    def ends(self, code: int) -> str:
        plain = super().ends(code)
        plain = re.sub(r"^[^>\n]*> ", r"\g<0>\n", plain, flags=re.MULTILINE)  # where the return key breaks the line
        assert max(len(line) for line in plain.split("\n") if not line.startswith("preflint: ")) <= 80
        return plain


@pytest.fixture(autouse=True)
def unchanged_where_it_says_so(trial: Path, request: pytest.FixtureRequest) -> Iterator[None]:
    before = trial.read_bytes()
    yield
    if "ends" in request.node.name:
        assert trial.read_bytes() == before
        assert list(trial.parent.iterdir()) == [trial]


def test_it_asks_for_what_is_missing_one_value_after_the_other(trial: Path) -> None:
    typist = Asked("spin_test", trial, *WHEN)
    typist.types("removed", "cw ccw ccw cw")
    seen = typist.ends(0)
    assert seen.index("Spin test: let each motor turn briefly") < seen.index("! Props removed before the pack goes in;")
    assert seen.index("! Props removed before") < seen.index("Props. Whether the props were removed")
    assert seen.count("keep hands, cables and sleeves away") == 1
    assert "  One each, in this order: front-left front-right rear-left rear-right\n" in seen
    assert "Written: Spin test of 2026-05-20 10:00 in " in seen
    assert "      seen: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}\n" in trial.read_text()


def test_short_answers_are_offered_where_they_can_be_meant(trial: Path) -> None:
    typist = Asked("output_test", trial, *WHEN)
    typist.types("removed", "as-commanded")
    assert "  Or as-commanded, where you saw just that\n" in typist.ends(0)
    turned = "turned: {front-left: front-left, front-right: front-right, rear-left: rear-left, rear-right: rear-right}"
    assert turned in " ".join(trial.read_text().split())
    typist = Asked("bell_pull", trial, *WHEN)
    typist.types("all no")
    assert "  Or all and one word, where it is the same everywhere\n" in typist.ends(0)
    assert trial.read_text().count("moved: false") == 4
    typist = Asked("spin_test", trial)
    typist.types("removed", "as-written", "-")
    assert "as-written, where" not in typist.seen  # its spins are not written


def test_what_makes_no_sense_is_asked_again_with_the_reason(trial: Path) -> None:
    typist = Asked("hover", trial, *WHEN)
    typist.types("2650 g", "2650", "3", "-", "60", "22,4", "22.4", "22.9", "450", "45")
    seen = typist.ends(0)
    assert "  No: the unit stands in the name takeoff_mass_g: write 2650.\n" in seen
    assert "  No: write a point as decimal sign: 22.4.\n" in seen
    assert "  No: it must be from 0 to 100; 450 is written.\n" in seen
    assert "date 2026-05-20 10:00, pack A1, in_force.sensor_mv_per_a 26.4" in seen.replace("\n", " ")
    assert "[V]" in seen
    text = trial.read_text()
    assert "      mean_current_a: 22.4\n      mean_voltage_v: 22.9\n      throttle_percent: 45\n" in text
    assert "wind" not in text


def test_rows_are_typed_one_a_line(trial: Path) -> None:
    typist = Asked("voltage_comparison", trial, "--set", "loaded=no", *WHEN)
    typist.types("0.5", "0.01", "24.10", "24.10 24.2", "22.0 22,1", "22.0 22.1", "")
    seen = typist.ends(0)
    assert "  One row a line: indicated_v reference_v. An empty line ends.\n" in seen
    assert "  No: a row has indicated_v reference_v; here is one number.\n" in seen
    assert "      rows: [[24.10, 24.2], [22.0, 22.1]]\n" in trial.read_text()


def test_a_log_may_be_named_where_readings_are_asked(trial: Path) -> None:
    trial.with_name("volts.csv").write_text("indicated_v,reference_v\n24.1,24.2\n22.0,22.1\n")
    typist = Asked("voltage_comparison", trial, "--set", "loaded=no", *WHEN)
    typist.types("0.5", "0.01", "vlots.csv", "volts.csv", "yes")
    seen = typist.ends(0)
    assert "  No: vlots.csv: there is no such file; " in seen
    assert "volts.csv" in seen.partition("no such file; ")[2].partition("\n> ")[0]
    assert "2 rows of indicated_v, reference_v" in seen
    assert "      file: volts.csv\n" in trial.read_text()


def test_the_precaution_is_that_of_the_route_told(trial: Path) -> None:
    typist = Asked("sag_run", trial, "--set", "route=restrained")
    typist.reads("> ")
    ctrl_c(typist.child)
    seen = typist.ends(130)
    assert "every tie must carry full thrust" in " ".join(seen.split())
    assert "Inverted rig" not in seen


def test_a_terminal_without_signs_for_it_gets_codes(trial: Path) -> None:
    child = pexpect.spawn(
        str(PROGRAM), ["record", "compass_rotation", str(trial), "--set", "field_is=raw"], timeout=60,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )  # fmt: skip
    child.expect_exact(b"[\\xb5T]")
    child.expect_exact(b"> ")
    ctrl_c(child)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 130


def test_the_logbook_asks_only_what_applies(trial: Path) -> None:
    typist = Asked("log", trial, *WHEN)
    typist.types("settings-changed", "flight-controller", "voltage-scale", "-")
    assert "Position" not in typist.ends(0)
    entry = "{date: 2026-05-20 10:00, kind: settings-changed, part: flight-controller, touches: [voltage-scale]}"
    assert entry in " ".join(trial.read_text().split())


def test_all_that_is_told_already_is_not_asked(trial: Path) -> None:
    assert Asked("rig_check", trial, "--set", "rig=flight", *WHEN).ends(0).startswith("Written: Rig check")


def test_ctrl_c_ends_it(trial: Path) -> None:
    typist = Asked("spin_test", trial)
    typist.types("removed")
    typist.reads("> ")
    ctrl_c(typist.child)
    assert "preflint: ended; nothing was written" in typist.ends(130)


def test_the_end_of_input_ends_it(trial: Path) -> None:
    typist = Asked("spin_test", trial)
    typist.types("removed")
    typist.reads("> ")
    typist.child.sendeof()
    assert "preflint: ended; nothing was written" in typist.ends(130)


def test_a_file_changed_meanwhile_is_left_as_it_is_now(trial: Path) -> None:
    typist = Asked("spin_test", trial)
    typist.types("removed")
    typist.reads("> ")
    changed = trial.read_text().replace("in a shed", "in a barn")
    trial.write_text(changed)
    typist.child.sendline("cw ccw ccw cw")
    seen = typist.ends(4)
    assert "the file was changed meanwhile" in seen
    assert "What you told, to add by hand:\n  spin_test:\n    - date: " in seen
    assert trial.read_text() == changed
    assert list(trial.parent.iterdir()) == [trial]


def test_a_file_made_a_link_meanwhile_is_left_alone(trial: Path) -> None:
    typist = Asked("spin_test", trial)
    typist.types("removed")
    typist.reads("> ")
    other = trial.with_name("other.txt")
    trial.rename(other)
    trial.symlink_to(other)
    typist.child.sendline("cw ccw ccw cw")
    assert "this is a link" in typist.ends(4)
    assert "spin_test" not in other.read_text()
    assert trial.is_symlink()


def test_what_a_log_comes_down_to_is_shown_before_it_is_taken(trial: Path) -> None:
    log = trial.with_name("hover.csv")
    log.write_text("time_s,current_a,voltage_v\n0,22.0,23.1\n30,22.2,22.9\n60,22.4,22.7\n")
    told = ("--set", "takeoff_mass_g=2650", "--set", "height_m=3", "--set", "wind_m_s=1", "--set", "throttle_percent=-")
    before = trial.read_text()
    typist = Asked("hover", trial, "--from", log, *told, *WHEN)
    typist.reads("mean_current_a: 22.2 A (22.0 to 22.4)")
    typist.types("what", "no")
    assert "nothing was written" in typist.ends(130)
    assert trial.read_text() == before
    typist = Asked("hover", trial, "--from", log, *told, *WHEN)
    typist.types("yes")
    typist.ends(0)
    assert "mean_current_a: 22.2\n" in trial.read_text()
