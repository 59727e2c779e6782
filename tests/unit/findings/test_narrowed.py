"""A report that tells less: what is left out, that it is told how much, and that its numbers stay those of the run."""

import datetime as dt
import shutil
from dataclasses import replace

import pytest
from making.manifests import CLUB

from preflint.errors import UsageError
from preflint.findings.compared import Change, Compared, ComparedAircraft
from preflint.findings.narrowed import at_least, narrowed, only
from preflint.findings.outcome import ADVISORY, CAUTION, NO_GO, Finding, Unproven
from preflint.findings.report import Note, Report, is_grounded
from preflint.interface import inspect_many

DAY = dt.date(2026, 5, 21)
NAMES = ("avocet", "bittern", "knot", "siskin", "whimbrel")


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """Five of the club's aircraft; somebody answers for a caution at one rotor of the last."""
    folder = tmp_path_factory.mktemp("club") / "club"
    shutil.copytree(CLUB, folder)
    with (folder / "whimbrel.airframe.yaml").open("a", encoding="utf-8") as file:
        file.write(
            "deferred_defects:\n  - {rule: retention/centring-ring, at: rear-left, until: 2026-06-01, by: R. Ashdown, "
            "because: rings ordered}\n"
        )
    report = inspect_many([folder / f"{name}.airframe.yaml" for name in NAMES], judged_on=DAY)
    assert not report.not_read
    return replace(report, notes=(Note("one"), Note("another")))


def told(report: Report) -> list[tuple[str, str, str | None]]:
    return [(one.about.name.value, r.rule.id, r.at) for one in report.aircraft for r in one.results]


def kept(report: Report, least: int) -> list[tuple[str, str, str | None]]:
    """What must stay, by what a reader may wait for."""
    return [
        (one.about.name.value, r.rule.id, r.at)
        for one in report.aircraft
        for r in one.results
        if not any(r is entry.result for entry in one.deferred)
        if (r.rule.severity >= least if isinstance(r.outcome, Finding) else True)
        if (r.rule.needed_for_flight if isinstance(r.outcome, Unproven) else True)
    ]


@pytest.mark.parametrize("least", [CAUTION, NO_GO])
def test_what_is_less_is_left_out_and_counted(club: Report, least) -> None:
    less = at_least(club, least)
    assert told(less) == kept(club, least)
    gone = len(told(club)) + 2 - len(told(less))
    assert gone > 2
    assert less.left_out == (f"Left out: {gone} of less than {least}.",)
    assert (less.notes, less.counts) == ((), club.counts)
    assert less.counts != replace(less, counted=None).counts
    assert not any(one.deferred for one in less.aircraft)
    assert [is_grounded(one, NO_GO) for one in less.aircraft] == [is_grounded(one, NO_GO) for one in club.aircraft]
    again = at_least(less, least)
    assert again.left_out == (*less.left_out, f"Nothing of less than {least} is left out.")


def test_a_finding_that_somebody_answers_for_is_left_out_with_its_deferral(club: Report) -> None:
    less = told(at_least(club, CAUTION))
    rings = [at for name, rule, at in less if (name, rule) == ("Whimbrel", "retention/centring-ring")]
    assert rings == ["front-left", "front-right", "rear-right"]


def test_of_advisories_everything_is_told(club: Report) -> None:
    assert at_least(club, ADVISORY) is club
    assert narrowed(club, NO_GO, ADVISORY, (), ()) is club


@pytest.mark.parametrize(("owners", "verdicts", "names"), [
    (["i.   MERRICK "], (), ["Avocet", "Knot"]),
    (["S. Varley", "R. Ashdown"], (), ["Bittern", "Whimbrel"]),
    ((), ["go"], ["Avocet"]),
    (["I. Merrick"], ["no-go", "unproven"], ["Knot"]),
    (["I. Merrick"], ["go"], ["Avocet"]),
    (["nobody"], (), []),
])  # fmt: skip
def test_only_some_owners_and_verdicts(club: Report, owners, verdicts, names) -> None:
    some = only(club, owners, verdicts)
    assert [one.about.name.value for one in some.aircraft] == names
    assert some.left_out == (f"Left out: {5 - len(names)} of 5 aircraft, of another owner or verdict.",)
    assert (some.counts, some.notes) == (club.counts, club.notes)
    assert only(club, (), ()) is club


def test_what_changed_is_narrowed_with_it(club: Report) -> None:
    def change(severity: str) -> Change:
        return Change("new", "finding" if severity else "unproven", "a/b", None, severity, "m", None)

    changes = tuple(map(change, ("", "advisory", "caution", "no-go")))
    listed = [
        ComparedAircraft(one.manifest, one.about.name.value, "go", one.verdict, False, changes)
        for one in club.aircraft
    ]
    listed.append(ComparedAircraft("sold.airframe.yaml", "Sold", "go", None, False, ()))
    listed.append(ComparedAircraft("new.airframe.yaml", "Knot", None, "go", False, ()))
    assert [one.state for one in listed] == [*["there"] * 5, "gone", "new"]
    report = replace(club, compared=Compared("2026-05-01", (), tuple(listed)))
    less = at_least(report, CAUTION).compared
    assert less is not None
    assert [one.severity for one in less.aircraft[0].changes] == ["", "caution", "no-go"]
    some = only(report, ["I. Merrick"], ()).compared
    assert some is not None
    assert [one.name for one in some.aircraft] == ["Avocet", "Knot", "Sold"]


@pytest.mark.parametrize(("ground_at", "least", "verdicts", "message"), [
    ("no-go", ADVISORY, (), "ground_at 'no-go': give a preflint.Severity"),
    (NO_GO, 1, (), "least 1: give a preflint.Severity"),
    (CAUTION, NO_GO, (), "least no-go leaves out what grounds from caution on; choose one no higher"),
    (NO_GO, NO_GO, ("go", "went"), "verdicts 'went': give some of no-go, unproven, go-with-cautions, go"),
])  # fmt: skip
def test_what_cannot_be_left_out_is_wrong_use(club: Report, ground_at, least, verdicts, message) -> None:
    with pytest.raises(UsageError) as error:
        narrowed(club, ground_at, least, (), verdicts)
    assert str(error.value) == message


@pytest.mark.parametrize(("at", "grounded"), [(("all",), False), (("nose-left",), True)])
def test_what_somebody_answers_for_grounds_nobody(at, grounded, tmp_path) -> None:
    """Rings missing at all four rotors: cautions, of which all are answered for, or one."""
    shutil.copytree(CLUB, tmp_path / "club")
    file = tmp_path / "club" / "avocet.airframe.yaml"
    positions = ("nose-left", "nose-right", "tail-left", "tail-right") if at == ("all",) else at
    answered = "".join(
        f"  - {{rule: retention/centring-ring, at: {one}, until: 2026-06-01, by: R. Ashdown, because: ordered}}\n"
        for one in positions
    )
    file.write_text(
        file.read_text().replace("centring_ring: not-needed", "centring_ring: missing")
        + f"deferred_defects:\n{answered}"
    )
    [one] = inspect_many([file], judged_on=DAY).aircraft
    assert (one.verdict, len(one.deferred)) == ("go-with-cautions", len(positions))
    assert is_grounded(one, CAUTION) is grounded
    assert not is_grounded(one, NO_GO)
