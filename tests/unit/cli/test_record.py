"""The command without anybody to ask: it writes what it is told, or says what is missing, and never half of it."""

import os
from pathlib import Path

import pytest
from making.manifests import CLUB
from making.program import run

from preflint.aircraft.records import KINDS
from preflint.cli.record.command import record

WHEN = ("--date", "2026-05-20 10:00")
SPIN = ("--set", "props=removed", "--set", "seen=cw ccw ccw cw")
NOTHING = "nothing was written"


def refused(trial: Path, *arguments: object, code: int) -> str:
    """What is said, where it ends with that code and the file is as it was."""
    before = trial.read_bytes()
    done = run("record", *arguments)
    assert (done.returncode, done.stdout) == (code, "")
    assert trial.read_bytes() == before
    assert sorted(trial.parent.iterdir()) == sorted({trial, *trial.parent.glob("*.csv")})
    return done.stderr


def test_the_help_names_every_kind() -> None:
    listed = (record.help or "").partition("one of\n")[2].partition("\n\n")[0]
    assert sorted(word.strip(",") for word in listed.split()) == sorted(KINDS)


def test_a_record_is_written_and_the_next_command_named(trial: Path) -> None:
    before = trial.read_text()
    done = run("record", "spin_test", trial.name, *SPIN, *WHEN, cwd=trial.parent)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == (
        "Written: Spin test of 2026-05-20 10:00 in trial.airframe.yaml, line 12.\n"
        "Next: preflint inspect trial.airframe.yaml\n"
    )
    seen = "{front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}"
    more = f"  spin_test:\n    - date: 2026-05-20 10:00\n      props: removed\n      seen: {seen}\n"
    assert trial.read_text() == before.replace("\n\nlogbook", f"\n{more}\nlogbook")
    assert run("inspect", trial, "--as-of", "2026-05-21").returncode in (0, 1)


def test_work_is_written_into_the_logbook(trial: Path) -> None:
    told = ("kind=replaced", "part=motor", "at=rear-left", "note=bearing: noise")
    done = run("record", "log", trial, *(part for one in told for part in ("--set", one)), "--date", "2026-05-20")
    assert done.returncode == 0
    entry = '{date: 2026-05-20, kind: replaced, part: motor, at: rear-left, note: "bearing: noise"}'
    assert " ".join(trial.read_text().split()).endswith(f" logbook: [ {entry}]")


def test_settings_pack_and_one_position_at_a_time(trial: Path) -> None:
    told = ("--set", "loaded=no", "--set", "reference.accuracy_percent=0.5", "--set", "reference.resolution_v=0.01")
    assert run("record", "voltage_comparison", trial, *told, "--set", "rows=24.10 24.2; 22 22.1", *WHEN).returncode == 0
    assert "      pack: A1\n      in_force: {divider_ratio: 14.6}\n      loaded: false\n" in trial.read_text()
    assert "      rows: [[24.10, 24.2], [22, 22.1]]\n" in trial.read_text()
    one = ("--set", "moved.front-left=no", "--set", "moved.rear-left=yes")
    assert run("record", "bell_pull", trial, *one, *WHEN).returncode == 0
    assert "    - {date: 2026-05-20 10:00, at: rear-left, moved: true}\n" in trial.read_text()


def test_the_lines_are_shown_and_not_written(trial: Path) -> None:
    before = trial.read_bytes()
    done = run("record", "spin_test", trial, "--set", "props=removed", "--print", *WHEN)
    assert done.returncode == 0
    assert done.stdout.startswith("  spin_test:\n    - date: 2026-05-20 10:00\n      props: removed\n      seen: {fro")
    assert "cw|ccw" in done.stdout
    log = run("record", "log", trial, "--set", "kind=crashed", "--print", *WHEN)
    assert log.stdout == "  - {date: 2026-05-20 10:00, kind: crashed}\n"
    assert trial.read_bytes() == before


def test_what_is_missing_is_named(trial: Path) -> None:
    said = refused(trial, "spin_test", trial, "--set", "props=removed", code=2)
    assert said == "preflint: spin_test is not complete; add --set seen=... (NAME=- where it is not known)\n"
    said = refused(trial, "voltage_comparison", trial, code=2)
    assert "--set loaded=..., --set reference.accuracy_percent=..." in said
    assert "--set rows=... (or --from FILE.csv)" in said
    assert "add --set kind=..., --set part=... (" in refused(trial, "log", trial, code=2)


def test_what_is_not_known_is_left_out(trial: Path) -> None:
    told = ("outputs_stopped=yes", "seconds_to_stop=-", "props=removed", "restarted_on_regain=no")
    done = run("record", "link_loss_test", trial, *(part for one in told for part in ("--set", one)), *WHEN)
    assert done.returncode == 0
    lines = ("- date: 2026-05-20 10:00", "  props: removed", "  outputs_stopped: true", "  restarted_on_regain: false")
    assert "".join(f"\n    {line}" for line in lines).join(("  link_loss_test:", "\n\n")) in trial.read_text()


@pytest.mark.parametrize(("kind", "told", "why"), [
    ("spn_test", (), 'no kind of record is called spn_test; did you mean "spin_test"?'),
    ("spin_test", ("propz=removed",), 'spin_test has no propz; did you mean "props"?'),
    ("spin_test", ("props",), "write NAME=VALUE, as in props=removed"),
    ("spin_test", ("props=off",), "write one of: removed, fitted"),
    ("spin_test", ("props=removed", "props=fitted"), "this is set twice"),
    ("spin_test", ("seen.front-left=cw", "seen.front-left=ccw"), "this is set twice"),
    ("spin_test", ("seen.front=cw",), "spin_test has no seen.front"),
    ("spin_test", ("seen=cw cw",), "4 values are needed"),
    ("hover", ("mean_current_a=11,0",), "write a point as decimal sign: 11.0"),
    ("hover", ("height_m=5 mm",), "the name height_m says m: write the number in that unit, without mm"),
    ("hover", ("height_m=900",), "it must be from 0 to 500"),
    ("hover", ("pack=C7",), "write one of: A1"),
])  # fmt: skip
def test_nonsense_is_refused(trial: Path, kind: str, told: tuple[str, ...], why: str) -> None:
    assert why in refused(trial, kind, trial, *(part for one in told for part in ("--set", one)), code=2)


def test_a_date_that_is_none_is_refused(trial: Path) -> None:
    assert "is no date" in refused(trial, "spin_test", trial, *SPIN, "--date", "yesterday", code=2)


def test_what_would_not_load_is_not_written(trial: Path) -> None:
    """Each value is right, and together they are not."""
    told = ("--set", "indicated_hpa=990", "--set", "station_pressure_hpa=990", "--set", "sea_level_pressure_hpa=1010")
    said = refused(trial, "barometer_check", trial, *told, "--set", "reference.accuracy_hpa=-", *WHEN, code=2)
    assert said.startswith("trial.airframe.yaml:15:7: station_pressure_hpa and sea_level_pressure_hpa cannot both")
    assert said.endswith("preflint: nothing was written: with this record the manifest could not be read\n")


@pytest.mark.parametrize(("change", "why"), [
    (("  rig_check:", "\trig_check:"), "tab"),
    (("layout: quad-x", "layout: quad-y"), "quad-y"),
    (("rig: flight", "rig: fligt"), "fligt"),
    (("logbook: []", "logbook: []\nlogbook: []"), "logbook"),
    (("logbook: []", "logbook: *x"), "*x names nothing above it"),
    (("  rig_check:\n", "  bell_pull: &a []\n  spin_test: *a\n  rig_check:\n"), "a * mark stands for this list"),
])  # fmt: skip
def test_a_manifest_that_is_wrong_or_leaves_no_place_is_refused(trial: Path, change: tuple[str, str], why: str) -> None:
    trial.write_text(trial.read_text().replace(*change))
    said = refused(trial, "spin_test", trial, *SPIN, code=3)
    assert why in said
    assert "trial.airframe.yaml:" in said
    assert NOTHING in said


def test_windows_line_ends_and_a_byte_order_mark_stay(trial: Path) -> None:
    before = b"\xef\xbb\xbf" + trial.read_bytes().replace(b"\n", b"\r\n")
    trial.write_bytes(before)
    assert run("record", "rig_check", trial, "--set", "rig=flight", *WHEN).returncode == 0
    entry = b"    - {date: 2026-05-20 10:00, rig: flight}\r\n"
    assert trial.read_bytes() == before.replace(b"\r\n\r\nlogbook", b"\r\n" + entry + b"\r\nlogbook")


def test_the_mode_stays(trial: Path) -> None:
    trial.chmod(0o640)
    assert run("record", "rig_check", trial, "--set", "rig=flight").returncode == 0
    assert trial.stat().st_mode & 0o777 == 0o640


def test_a_protected_file_is_left_alone(trial: Path) -> None:
    trial.chmod(0o444)
    said = refused(trial, "rig_check", trial, "--set", "rig=flight", code=4)
    assert "nothing was written: the file is protected against writing" in said


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_takes_no_file(trial: Path) -> None:
    trial.parent.chmod(0o555)
    try:
        assert NOTHING in refused(trial, "rig_check", trial, "--set", "rig=flight", code=4)
    finally:
        trial.parent.chmod(0o755)


def test_a_link_is_not_written_through(trial: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    link = tmp_path_factory.mktemp("elsewhere") / "other.airframe.yaml"
    link.symlink_to(trial)
    assert "this is a link; name the file itself" in refused(trial, "rig_check", link, "--set", "rig=flight", code=3)
    assert link.is_symlink()


def test_a_file_that_is_not_there(trial: Path) -> None:
    assert "there is no such file" in refused(trial, "rig_check", trial.with_name("no.airframe.yaml"), code=3)


def test_a_log_in_the_tree_is_named_and_its_steps_shown(tmp_path: Path) -> None:
    for part in ("logs", "parts", "sites"):
        (tmp_path / part).symlink_to(CLUB / part)  # read by the run below only by their copies
    told = ("route=restrained", "field_is=raw", "magnetic_restraint=no", "steel_nearby=no", "payload_on=yes")
    (tmp_path / "logs").unlink()
    (tmp_path / "logs").mkdir()
    log = tmp_path / "logs" / "run.csv"
    log.write_bytes((CLUB / "logs" / "curlew-2026-05-16.csv").read_bytes())
    trial = tmp_path / "trial.airframe.yaml"
    trial.write_text("preflint: 1\naircraft: {name: T, layout: quad-x}\npower_sensing: {sensor_mv_per_a: 26.4}\n")
    options = [part for one in told for part in ("--set", one)]
    done = run("record", "interference_run", trial, "--from", log, *options, *WHEN)
    assert (done.returncode, done.stderr) == (0, "")
    assert " steps:\n  throttle_percent 0: " in done.stdout
    assert "      file: logs/run.csv\n" in trial.read_text()
    assert "      in_force: {sensor_mv_per_a: 26.4}\n" in trial.read_text()


def test_few_rows_from_elsewhere_are_copied(trial: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    log = tmp_path_factory.mktemp("elsewhere") / "volts.csv"
    log.write_text("reference_v;remark;indicated_v\n24.10;full;24.2\n22.00;;22.1\n")
    told = ("--set", "loaded=no", "--set", "reference.accuracy_percent=0.5", "--set", "reference.resolution_v=0.01")
    assert run("record", "voltage_comparison", trial, "--from", log, *told, *WHEN).returncode == 0
    kept = "      columns: [indicated_v, reference_v]\n      rows: [[24.2, 24.10], [22.1, 22.00]]\n"
    assert kept in trial.read_text()


def test_many_rows_from_elsewhere_are_not(trial: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    log = tmp_path_factory.mktemp("elsewhere") / "run.csv"
    log.write_text("current_a,voltage_v,used_mah\n" + "1,24,5\n" * 51)
    assert "51 rows are too many to copy" in refused(trial, "sag_run", trial, "--from", log, code=2)


def test_a_hover_log_comes_down_to_its_means(trial: Path) -> None:
    log = trial.with_name("hover.csv")
    rows = [f"{second}.0,{45 + second % 3},{22.0 + second % 2:.1f},{22.9:.2f}" for second in range(61)]
    log.write_text("time_s,throttle_percent,current_a,voltage_v\n" + "\n".join(rows) + "\n")
    told = ("takeoff_mass_g=2650", "height_m=3", "wind_m_s=1")
    done = run("record", "hover", trial, "--from", log, *(part for one in told for part in ("--set", one)), *WHEN)
    assert done.returncode == 0
    # 31 of the 61 readings are 22.0 A and 30 are 23.0 A: 22.49 A on average
    assert "  mean_current_a: 22.5 A (22.0 to 23.0)\n" in done.stdout
    assert "      mean_current_a: 22.5\n      mean_voltage_v: 22.90\n      throttle_percent: 46\n" in trial.read_text()
    assert "      duration_s: 60\n" in trial.read_text()


def test_columns_that_are_not_there_are_named(trial: Path) -> None:
    log = trial.with_name("hover.csv")
    log.write_text("time_s,current\n0,1\n1,2\n")
    said = refused(trial, "hover", trial, "--from", log, code=3)
    assert "wanted are the columns [time_s], [throttle_percent], current_a, voltage_v" in said
    assert "has no readings in columns" in refused(trial, "spin_test", trial, "--from", log, code=2)
