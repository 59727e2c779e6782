"""Names that were meant for a manifest or a policy, told from all others (how they go wrong: common practice, no source)."""

# ruff: noqa: E501 - a row of a table of cases stays on one line
import pytest

from preflint.load.names import nearly_manifest, nearly_policy


@pytest.mark.parametrize("name", [
    "kite.airframe.yml", "kite.airframe.YAML", "Kite.Airframe.yaml", "KITE.AIRFRAME.YAML", "kite-airframe.yaml",
    "kite_airframe.yaml", "kite airframe.yaml", "kiteairframe.yaml", "airframe.yaml", "kite.airframe.yaml.txt",
    "kite.airframe.yaml.bak", "kite.airframe.yaml~", "#kite.airframe.yaml#", ".kite.airframe.yaml.swp",
    "kite.airframe (1).yaml", "kite.airframe.old.yaml", "kite.airframe.yaml ", "kite.airframe.yaml\u200b",
    "kite.airframe. yaml", "kite.airframe.yalm", "kite.airframe", "kite.airframes.yaml", "kite.air-frame.yaml",
    "kite.airfame.yaml", "kite.airfarme.yaml", "kite.\u0430irframe.yaml", "kite.\uff41irframe.yaml",
    "\udcff.airframe.yml", "kite.airframe.json", "Kite.Airframe.JSON", ".airframe.json", ".airframe.yaml.txt",
])  # fmt: skip
def test_a_name_that_was_meant_for_a_manifest(name: str) -> None:
    assert nearly_manifest(name, {name})


@pytest.mark.parametrize("name", [
    "kite.airframe.yaml", ".airframe.yaml", "kite.yaml", "kite.yml", "airframe.schema.json", "airframe.md", "frame.yaml",
    "mainframe.yaml", "airframe-plate.yaml", "kite.airframe.jpg", "README.md", "", "preflint.yaml",
    "add-airframe", "kite.aircraft.jpg",
])  # fmt: skip
def test_a_name_that_was_not(name: str) -> None:
    assert not nearly_manifest(name, {name})


@pytest.mark.parametrize("name", [
    "kite.airframe.yaml.bak", "kite.airframe.yaml~", "kite.airframe.yaml.~1~", "#kite.airframe.yaml#",
    ".kite.airframe.yaml.swp", "kite.airframe.yaml.json",
])  # fmt: skip
def test_a_copy_beside_its_manifest_says_nothing_new(name: str) -> None:
    assert not nearly_manifest(name, {name, "kite.airframe.yaml"})
    assert nearly_manifest(name, {name, "wren.airframe.yaml"})


def test_what_a_text_editor_wrote_beside_the_manifest_may_be_the_later_one() -> None:
    for name in ("kite.airframe.yaml.txt", "Kite.airframe.yaml.TXT", "kite.airframe.txt.yaml.txt"):
        assert nearly_manifest(name, {name, "kite.airframe.yaml"})


def test_json_beside_its_manifest_is_a_report() -> None:
    assert not nearly_manifest("kite.airframe.json", {"kite.airframe.json", "kite.airframe.yaml"})
    assert nearly_manifest("kite.airframe.json", {"kite.airframe.json", "wren.airframe.yaml"})


@pytest.mark.parametrize("name", [
    "Preflint.yaml", "PREFLINT.YAML", "preflint.yml", "preflint.YML", ".preflint.yaml", ".preflint.yml", "preflint.yaml ",
    "preflint.yaml.txt", "preflint.yaml.bak", "preflnt.yaml", "prelfint.yaml", "pre-flint.yaml", "_preflint.yaml",
    "preflints.yaml", "preflint..yaml", "\uff50reflint.yaml",
])  # fmt: skip
def test_a_name_that_was_meant_for_a_policy(name: str) -> None:
    assert nearly_policy(name, {name})


@pytest.mark.parametrize("name", [
    "preflint.yaml", "preflint", "preflint.json", "preflint.sarif", "preflint-strict.yaml", "strict.preflint.yaml",
    "preflint2.yaml", "flint.yaml", "", "kite.airframe.yaml",
])  # fmt: skip
def test_a_name_that_was_meant_for_no_policy(name: str) -> None:
    assert not nearly_policy(name, {name})


def test_a_copy_beside_the_policy_is_none_but_a_second_one_is() -> None:
    beside = {"preflint.yaml"}
    assert not any(nearly_policy(name, beside) for name in ("preflint.yaml~", "preflint.yaml.bak", ".preflint.yaml.swp"))
    assert all(nearly_policy(name, beside) for name in ("preflint.yml", ".preflint.yaml", "Preflint.yaml"))
