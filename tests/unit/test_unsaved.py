"""A manifest as an editor holds it is judged in place of the file, under the same walls."""

import datetime as dt
import os
from pathlib import Path

import pytest
from making.manifests import CLUB, manifest

import preflint
from preflint.load.limits import MAX_YAML_BYTES

DAY = dt.date(2026, 5, 21)
SPUN = manifest(rotors={"front-left": "spin: cw"})


def inspect(path: Path, text: str) -> preflint.Inspected:
    return preflint.inspect(path, judged_on=DAY, unsaved=text)


def test_the_text_counts_and_not_the_file(tmp_path: Path) -> None:
    file = tmp_path / "trial.airframe.yaml"
    file.write_text(manifest(name="Saved"))
    judged = inspect(file, SPUN)
    assert judged.aircraft.about.name.value == "Trial"
    assert judged.aircraft.rotor("front-left").spin.place.line == 4  # type: ignore[union-attr]
    assert judged.files == ("trial.airframe.yaml",)
    assert preflint.inspect(file, judged_on=DAY).aircraft.about.name.value == "Saved"


def test_it_is_judged_as_it_would_be_once_saved() -> None:
    """With the parts, sites and logs of its tree, and by its policy."""
    for path in sorted(CLUB.glob("*.airframe.yaml")):
        held, saved = inspect(path, path.read_text("utf-8")), preflint.inspect(path, judged_on=DAY)
        assert held.results == saved.results
        assert (held.verdict, held.policy, held.files) == (saved.verdict, saved.policy, saved.files)


def test_one_that_was_never_saved_is_judged_too(tmp_path: Path) -> None:
    assert inspect(tmp_path / "new.airframe.yaml", SPUN).manifest == "new.airframe.yaml"
    with pytest.raises(preflint.NotRead, match="there is no such file"):
        inspect(tmp_path / "no-such-folder" / "new.airframe.yaml", SPUN)


def test_a_link_stays_refused(tmp_path: Path) -> None:
    target, link = tmp_path / "target.yaml", tmp_path / "link.airframe.yaml"
    target.write_text(SPUN)
    os.symlink(target, link)
    with pytest.raises(preflint.NotRead, match="this is a link"):
        inspect(link, SPUN)


def test_what_it_names_stays_inside_its_folder(tmp_path: Path) -> None:
    (tmp_path / "secret.yaml").write_text("latitude_deg: 1\nlongitude_deg: 2\n")
    (tmp_path / "club").mkdir()
    with pytest.raises(preflint.NotRead, match="leads out of the folder"):
        inspect(tmp_path / "club" / "new.airframe.yaml", manifest("site: ../secret.yaml\n"))


def test_a_text_that_is_too_large_is_refused(tmp_path: Path) -> None:
    with pytest.raises(preflint.NotRead, match=f"at most {MAX_YAML_BYTES} are read"):
        inspect(tmp_path / "new.airframe.yaml", SPUN + "#" * MAX_YAML_BYTES)


def test_half_a_character_is_told_and_no_crash(tmp_path: Path) -> None:
    with pytest.raises(preflint.NotRead, match="not UTF-8"):
        inspect(tmp_path / "new.airframe.yaml", SPUN + "# \ud83d\n")
