"""``--report sheet=FOLDER`` and ``csv=FILE`` at the command line: what is refused, what it ends with."""

from pathlib import Path
from subprocess import CompletedProcess

import pytest
from making.manifests import CLUB
from making.program import DAY, run


def inspect(*options: object, cwd: Path) -> CompletedProcess[str]:
    return run("inspect", CLUB / "siskin.airframe.yaml", *DAY, *options, cwd=cwd)


def test_both_are_written_beside_the_ordinary_report(tmp_path: Path) -> None:
    for _ in range(2):  # the second time over the first
        done = inspect("--report", "sheet=out", "--report", "csv=out.csv", cwd=tmp_path)
        assert done.returncode == 1, done.stderr
        assert done.stdout.startswith("NO-GO  Siskin")
    written = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert written == ["index.html", "letters.html", "siskin.html", "written-by-preflint.json"]
    assert (tmp_path / "out.csv").read_bytes().startswith(b"aircraft,owner,")


@pytest.mark.parametrize(("option", "said"), [
    ("sheet=-", "a sheet is several files; name a folder"),
    ("sheet=", "write FORMAT=FILE"),
    ("html=out", "no format html"),
])
def test_what_cannot_be_is_refused_before_anything_is_judged(option: str, said: str, tmp_path: Path) -> None:
    done = inspect("--report", option, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert done.stdout == ""


def test_what_somebody_wrote_stays(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine.txt").write_text("mine")
    (tmp_path / "log.csv").write_text("time_s,current_a\n")
    done = inspect("--report", "sheet=out", cwd=tmp_path)
    assert done.returncode == 4
    assert "this folder holds other files; name a new or an empty one" in done.stderr
    assert inspect("--report", "csv=log.csv", cwd=tmp_path).returncode == 4
    assert (tmp_path / "log.csv").read_text() == "time_s,current_a\n"
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["mine.txt"]
