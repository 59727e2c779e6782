"""The pack flown today, by its label: what is then needed, of which aircraft, and a label that nobody has."""

import datetime as dt
import json

import jsonschema
import preflint_schemas
import pytest
from making.manifests import CLUB, manifest
from making.program import run

import preflint
from preflint.findings.ladder import ladder
from preflint.findings.outcome import NotApplicable, Unproven

DAY = dt.date(2026, 5, 21)
HERON = CLUB / "heron.airframe.yaml"
NEXT = DAY + dt.timedelta(days=1)
OF_THE_DAY = ["packs/held", "packs/plug", "packs/swollen"]


def needed(inspected):
    return [r.rule.id for r in inspected.results if r.rule.needed_for_flight and isinstance(r.outcome, Unproven)]


def test_the_check_of_that_day_is_needed_and_of_no_other():
    assert preflint.inspect(HERON, judged_on=DAY, packs="HE1").verdict == "go"
    later = preflint.inspect(HERON, judged_on=NEXT, packs=["HE1"])
    assert (later.verdict, needed(later), later.flown_with) == ("unproven", OF_THE_DAY, ("HE1",))
    [job] = [job for job in preflint.next_jobs(later) if job.needed_for_flight]
    assert job.records == ("pack_check",)
    open_ = [thing for step in ladder(later) for thing in step.things if not thing.shown]
    assert [(thing.title, thing.minutes) for thing in open_] == [("Pack check", 2)]


def test_without_a_label_nothing_is_needed():
    later = preflint.inspect(HERON, judged_on=NEXT)
    assert (later.verdict, needed(later), later.flown_with) == ("go", [], ())


def test_a_failed_check_grounds_with_and_without_a_label():
    text = HERON.read_text(encoding="utf-8").replace("rocks_on_flat: false", "rocks_on_flat: true")
    for day in (DAY, NEXT):
        for packs in ((), ("HE1",)):
            assert preflint.inspect(HERON, judged_on=day, packs=packs, unsaved=text).verdict == "no-go"


def test_two_packs_take_two_checks():
    second = "packs:\n  - {label: HE2, chemistry: lipo, cells: 6}\n"
    text = HERON.read_text(encoding="utf-8").replace("packs:\n", second)
    both = preflint.inspect(HERON, judged_on=NEXT, packs=["HE1", "HE2"], unsaved=text)
    assert sum(thing.minutes for step in ladder(both) for thing in step.things) == 4
    one = preflint.inspect(HERON, judged_on=DAY, packs=["HE1"], unsaved=text)
    assert one.verdict == "go"
    of_the_other = {type(r.outcome) for r in one.results if r.at == "HE2"}
    assert of_the_other == {NotApplicable}
    assert preflint.inspect(HERON, judged_on=DAY, packs=["HE2"], unsaved=text).verdict == "unproven"


def test_a_label_that_no_aircraft_has_is_no_go_ahead():
    for path in (HERON, CLUB):
        with pytest.raises(preflint.UsageError, match='no aircraft here has a pack labelled "HE9"'):
            preflint.inspect_many(path, judged_on=DAY, packs=["HE1", "HE9"])
    with pytest.raises(preflint.UsageError, match='did you mean "HE1"'):
        preflint.inspect(HERON, judged_on=DAY, packs="he1 ")


def test_an_aircraft_without_labelled_packs():
    path = CLUB / "trial.airframe.yaml"
    with pytest.raises(preflint.UsageError, match="none of them has a label"):
        preflint.inspect(path, judged_on=DAY, packs="A1", unsaved=manifest("packs: [{cells: 4}]\n"))


def test_in_a_folder_only_aircraft_with_such_a_pack_are_concerned():
    plain = preflint.inspect_many(CLUB, judged_on=NEXT)
    report = preflint.inspect_many(CLUB, judged_on=NEXT, packs=["HE1"])
    before = {one.manifest: one.verdict for one in plain.aircraft}
    changed = {one.manifest for one in report.aircraft if one.verdict != before[one.manifest]}
    assert changed == {"heron.airframe.yaml"}
    assert [one.manifest for one in report.aircraft if one.flown_with] == ["heron.airframe.yaml"]
    [note] = [note.message for note in report.notes if "packs" in note.message]
    assert note.endswith("none of the packs flown today is theirs; judged without a pack of the day")


def test_where_something_was_not_read_the_label_may_be_its_own(tmp_path):
    (tmp_path / "one.airframe.yaml").write_text(manifest("packs: [{label: A1}]\n"), encoding="utf-8")
    (tmp_path / "bad.airframe.yaml").write_text("preflint: [", encoding="utf-8")
    report = preflint.inspect_many(tmp_path, judged_on=DAY, packs=["B1"])
    assert any('no aircraft here has a pack labelled "B1"' in note.message for note in report.notes)
    assert report.not_read


def test_on_the_command_line():
    def ran(*arguments):
        return run("inspect", HERON.name, "--as-of", *arguments, cwd=CLUB)

    good = ran("2026-05-21", "--pack-label", "HE1")
    assert good.returncode == 0
    assert good.stdout.startswith("GO  Heron, octo-x, flown with pack HE1 (heron.airframe.yaml)")
    assert ran("2026-05-22", "--pack-label", "HE1").returncode == 1
    assert ran("2026-05-22", "--pack-label", "HE1", "--jobs", "2").returncode == 1
    assert ran("field-day", "--pack-label", "HE1").returncode == 1  # of another day than the check
    full = ran("2026-05-22", "--pack-label", "HE1", "--detail", "full").stdout
    assert "UNPROVEN  Heron, T. Halloran, octo-x, flown with pack HE1" in full


def test_in_json():
    told = json.loads(preflint.render_report(preflint.inspect_many(HERON, judged_on=DAY, packs="HE1"), "json"))
    jsonschema.validate(told, preflint_schemas.report())
    assert told["aircraft"][0]["flown_with"] == ["HE1"]
