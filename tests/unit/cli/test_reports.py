"""--report: several at once, whole or not at all, and never onto an input."""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from subprocess import CompletedProcess
from xml.etree import ElementTree as ET

import pytest
from making.manifests import CLUB
from making.program import DAY, run, started

from preflint.cli.output import write
from preflint.cli.reports import wanted
from preflint.errors import UsageError
from preflint.interface import FORMATS


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return Path(shutil.copytree(CLUB, tmp_path / "club"))


def inspect(*options: str, cwd: Path) -> CompletedProcess[str]:
    return run("inspect", *options, *DAY, cwd=cwd)


def test_all_at_once_and_the_ordinary_report_too(club: Path) -> None:
    options = [part for form in FORMATS for part in ("--report", f"{form}=../r.{form}")]
    done = inspect("siskin.airframe.yaml", *options, cwd=club)
    assert (done.returncode, done.stderr) == (1, "")
    assert done.stdout.startswith("NO-GO")
    told = {form: (club.parent / f"r.{form}").read_text() for form in FORMATS}
    assert told["text"] == done.stdout
    assert json.loads(told["sarif"])["version"] == "2.1.0"
    assert ET.fromstring(told["junit"]).tag == "testsuites"
    assert json.loads(told["json"])["report"] == 1
    assert told["markdown"].startswith("## ")
    assert told["annotations"].startswith("::error ")
    assert told["lines"].startswith("siskin.airframe.yaml:")
    assert sorted(p.name for p in club.parent.iterdir()) == ["club", *sorted(f"r.{form}" for form in FORMATS)]


def test_one_on_standard_output_takes_the_place_of_the_ordinary_report(club: Path) -> None:
    done = inspect("siskin.airframe.yaml", "--report", "lines=-", cwd=club)
    assert (done.returncode, done.stderr) == (1, "")
    assert done.stdout.startswith("siskin.airframe.yaml:")
    done = inspect("siskin.airframe.yaml", "--report", "lines=-", "--output", "../o.txt", cwd=club)
    assert done.stdout.startswith("siskin.airframe.yaml:")
    assert (club.parent / "o.txt").read_text().startswith("NO-GO")


def test_detail_and_threshold_hold_for_a_further_text_too(club: Path) -> None:
    for options in (["--detail", "none"], ["--detail", "full"], ["--ground-at", "advisory"]):
        done = inspect("avocet.airframe.yaml", "curlew.airframe.yaml", *options, "--report", "text=../t", cwd=club)
        assert (club.parent / "t").read_text() == done.stdout


@pytest.mark.parametrize(("options", "complaint"), [
    (["sarif"], "--report sarif: write FORMAT=FILE, as in sarif=preflint.sarif; - is standard output"),
    (["sarif="], "--report sarif=: write FORMAT=FILE, as in sarif=preflint.sarif; - is standard output"),
    (
        ["pdf=x"],
        "--report pdf=x: no format pdf; there are text, json, sarif, junit, markdown, annotations, lines, csv, sheet",
    ),
    (["lines=-", "sarif=-"], "--report sarif=-: another report goes to the same place already"),
    (["lines=a/x", "sarif=a//x"], "--report sarif=a//x: another report goes to the same place already"),
    (["lines=o.txt"], "--report lines=o.txt: another report goes to the same place already"),
])  # fmt: skip
def test_a_wrong_option_says_what_to_write(options: list[str], complaint: str) -> None:
    with pytest.raises(UsageError) as raised:
        wanted(options, Path("o.txt"))
    assert str(raised.value) == complaint


@pytest.mark.parametrize("target", ["siskin.airframe.yaml", "preflint.yaml", "names.txt", "club-policy.txt"])
def test_no_report_is_written_where_one_would_replace_an_input(club: Path, target: str) -> None:
    (club / "names.txt").write_text("siskin.airframe.yaml\n")
    (club / "club-policy.txt").write_text((club / "preflint.yaml").read_text())
    before = (club / target).read_bytes()
    done = inspect(
        ".", "--files-from", "names.txt", "--policy", "club-policy.txt", "--report", "lines=new.txt",
        "--report", f"sarif={target}", cwd=club,
    )  # fmt: skip
    assert done.returncode == 4
    assert target in done.stderr
    assert (club / target).read_bytes() == before
    assert not (club / "new.txt").exists()


def test_a_report_that_cannot_be_written_is_exit_code_4(club: Path) -> None:
    done = inspect("avocet.airframe.yaml", "--report", "sarif=none/x.sarif", cwd=club)
    assert done.returncode == 4
    assert "could not be written" in done.stderr


@pytest.mark.parametrize("old", [None, "old\n"])
def test_where_a_piece_of_it_fails_the_old_file_stays_and_no_other(tmp_path: Path, old: str | None) -> None:
    def pieces() -> Iterator[str]:
        yield "x" * 3_000_000
        raise MemoryError

    if old is not None:
        (tmp_path / "r.json").write_text(old)
    with pytest.raises(MemoryError):
        write(pieces(), tmp_path / "r.json")
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == ({} if old is None else {"r.json": old})


def test_the_same_bytes_wherever_and_however_it_runs(club: Path) -> None:
    def told(folder: str, paths: list[str], **environment: str) -> dict[str, bytes]:
        out = club.parent / folder
        out.mkdir()
        options = [part for form in FORMATS for part in ("--report", f"{form}={out / form}")]
        done = started("inspect", *paths, *DAY, *options, cwd=out, PYTHONIOENCODING="utf-8", **environment)
        assert (done.returncode, done.stderr) == (1, "")
        return {form: (out / form).read_bytes() for form in FORMATS} | {"shown": done.stdout.encode()}

    names = sorted(str(path) for path in club.glob("*.airframe.yaml"))
    first = told("one", [str(club)], PYTHONHASHSEED="1", TZ="UTC", LC_ALL="C.UTF-8")
    assert told("two", ["../club"], PYTHONHASHSEED="2", TZ="Pacific/Kiritimati", LC_ALL="C") == first
    assert told("three", names[::-1], PYTHONHASHSEED="3", TZ="America/Lima") == first
    assert [form for form, text in first.items() if str(club.parent).encode() in text] == []
