"""A club policy in force, judged on real files through all stages."""

import sys

import pytest
from making.manifests import expect

from preflint.api import Clear, Finding, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.errors import UsageError
from preflint.findings.outcome import NO_GO
from preflint.inspection import Inspected
from preflint.testing import findings, inspect_text, outcome

LIGHT = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x, takeoff_mass_g: 2000, arm_mm: 300}
every_rotor: {prop: {diameter_in: 12}}
packs: [{label: D1, chemistry: lipo, cells: 4}]
"""


def judged(policy: str, manifest: str = LIGHT, **files: str) -> Inspected:
    return inspect_text(manifest, files={"preflint.yaml": f"preflint: 1\n{policy}", **files})


def refused(policy: str, **files: str) -> str:
    with pytest.raises(UsageError) as error:
        judged(policy, **files)
    prefix = "the policy is wrong, nothing was judged: "
    assert str(error.value).startswith(prefix)
    return str(error.value).removeprefix(prefix)


LIMITS = [
    # key, rule, position, the record, the greatest that passes, the least that does not
    ("takeoff_mass_g", "club/takeoff-mass", None, "takeoff_mass_g: 2000", 2000, 1999.5),
    ("prop_diameter_in", "club/prop-diameter", "rear-left", "diameter_in: 12", 12, 11.9),
    ("arm_mm", "club/arm-length", None, "arm_mm: 300", 300, 299),
]


@pytest.mark.parametrize(("key", "rule", "at", "record", "passes", "fails"), LIMITS)
def test_an_upper_limit_on_both_sides(key, rule, at, record, passes, fails) -> None:
    assert isinstance(outcome(judged(f"limits: {{{key}: {passes}}}\n"), rule, at), Clear)
    inspected = judged(f"limits: {{{key}: {fails}}}\n")
    found = outcome(inspected, rule, at)
    value = record.partition(": ")[2]
    assert isinstance(found, Finding)
    assert found.message == f"{key} is {value}; the club lets no more than {fails:g} fly"
    assert found.evidence.endswith(f"the club's limit is {fails:g} {key.rpartition('_')[2]}")
    line = LIGHT.splitlines()[found.place.line - 1]
    assert line[found.place.column - 1 : found.place.end_column - 1] == value
    assert [(r.place.file, r.place.line, r.message) for r in found.related] == [
        ("preflint.yaml", 2, "the club's limit")
    ]
    assert inspected.verdict == "no-go"
    assert {r.rule.severity for r in inspected.results if r.rule.id == rule} == {NO_GO}


@pytest.mark.parametrize(("key", "rule", "at", "record", "passes", "fails"), LIMITS)
def test_a_limit_on_what_nobody_recorded_is_unproven(key, rule, at, record, passes, fails) -> None:
    manifest = LIGHT.replace(f", {record}", "").replace(record, "blades: 2")
    answer = expect(Unproven, outcome(judged(f"limits: {{{key}: {passes}}}\n", manifest), rule, at))
    assert answer.message.endswith(f"{record.partition(':')[0]} is not recorded")


def test_the_farthest_shaft_counts_by_whatever_record() -> None:
    places = "".join(
        f"  - {{at: {at}, place_mm: [{x}, {y}, 0]}}\n"
        for at, x, y in (
            ("front-left", 300, -400),
            ("front-right", 240, 320),
            ("rear-left", -240, -320),
            ("rear-right", -240, 320),
        )
    )
    found = expect(Finding, outcome(judged("limits: {arm_mm: 499}\n", LIGHT + "rotors:\n" + places), "club/arm-length"))
    assert (found.place.line, found.message) == (6, "arm_mm is 500; the club lets no more than 499 fly")
    unmeasured = LIGHT.replace(", arm_mm: 300", "") + "rotors:\n"
    told = expect(Finding, outcome(judged("limits: {arm_mm: 499}\n", unmeasured + places), "club/arm-length"))
    assert (told.place.line, told.message) == (6, found.message)
    expect(Clear, outcome(judged("limits: {arm_mm: 500}\n", unmeasured + places), "club/arm-length"))
    three = unmeasured + "".join(places.splitlines(keepends=True)[:3])
    expect(Unproven, outcome(judged("limits: {arm_mm: 499}\n", three), "club/arm-length"))


def test_a_tolerance_is_applied_and_loosening_is_told() -> None:
    comparison = (
        "power_sensing: {divider_ratio: 6.0}\nrecords:\n  voltage_comparison:\n    - {date: 2026-05-20, "
        "in_force: {divider_ratio: 6.0}, loaded: false, reference: {instrument: meter, accuracy_percent: 0.05, "
        "resolution_v: 0.001}, columns: [indicated_v, reference_v], "
        "rows: [[16.24, 16.0], [15.225, 15.0], [14.21, 14.0]]}\n"
    )
    usual = judged("club: x\n", LIGHT + comparison)
    loose = judged("tolerances: {voltage_scale_percent: 3}\n", LIGHT + comparison)
    tight = judged("tolerances: {voltage_scale_percent: 0.5}\n", LIGHT + comparison)
    rule = "power_sensing/voltage-scale"
    assert [type(outcome(one, rule)) for one in (usual, loose, tight)] == [Finding, Clear, Finding]
    assert loose.policy is not None
    assert loose.policy.endswith("; weakens: voltage_scale_percent 3 % (usually 1 %)")
    assert tight.policy is not None
    assert "weakens" not in tight.policy


@pytest.mark.parametrize(("said", "weakened"), [
    ("tolerances: {load_coverage_percent: 80}", "load_coverage_percent 80 % (usually 90 %)"),
    ("tolerances: {load_coverage_percent: 95}", None),
    ("tolerances: {load_coverage_percent: 90}", None),
    ("tolerances: {link_margin_nothing_left: 3}", None),  # more to spare than the usual 0 dB
    ("tolerances: {voltages_apart_percent: 1}", "voltages_apart_percent 1 % (usually 2 %)"),
    ("tolerances: {voltages_apart_percent: 3}", None),
    ("record_ages: {hover: 731}", "hover_age 731 days (usually 730 days)"),
    ("record_ages: {hover: 30}", None),
])
def test_what_weakens_depends_on_which_way_is_stricter(said: str, weakened: str | None) -> None:
    policy = judged(said + "\n").policy
    assert policy is not None
    assert policy.partition("; weakens: ")[2] == (weakened or "")


def test_a_record_age_is_applied() -> None:
    manifest = (
        LIGHT + "records: {range_test: [{date: 2026-05-01, distance_m: 30, reduced_power: true, control_held: true}]}\n"
    )
    assert not any(rule == "freshness/age" for rule, _, _ in findings(judged("club: x\n", manifest)))
    for age, old in ((20, False), (19, True)):
        found = [rule for rule, _, _ in findings(judged(f"record_ages: {{range_test: {age}}}\n", manifest))]
        assert ("freshness/age" in found) is old


def test_needed_for_flight_adds_rules_and_topics() -> None:
    needed = {
        r.rule.id
        for r in judged("needed_for_flight: [control/tilt-answer, papers]\n").results
        if r.rule.needed_for_flight
    }
    rules = [rule.info for rule in builtin_and(()).rules]
    usual = {rule.id for rule in rules if rule.needed_for_flight}
    papers = {rule.id for rule in rules if rule.topic == "papers" and rule.each == "aircraft"}
    assert usual | papers | {"control/tilt-answer"} >= needed > {"control/tilt-answer", *papers}


def test_a_freshness_row_ends_a_record() -> None:
    manifest = LIGHT + (
        "records: {tilt_test: [{date: 2026-05-01, props: removed, moves: [{did: nose-down, indicated: nose-down, "
        "sped_up: [front-left, front-right]}]}]}\nlogbook: [{date: 2026-05-09, kind: moved, part: payload}]\n"
    )
    row = "freshness: [{record: tilt_test, part: payload, work: [moved]}]\n"
    assert [
        isinstance(outcome(judged(policy, manifest), "freshness/stale-record"), Finding)
        for policy in ("club: x\n", row)
    ] == [False, True]


OWNER = """\
rules:
  - id: club/owner-named
    severity: caution
    message: nobody answers for it
    precaution: Pack unplugged until somebody does.
    needs: NEEDS
"""


def by_rule(needs: str, manifest: str = LIGHT, **files: str):  # type: ignore[no-untyped-def]
    return outcome(judged(OWNER.replace("NEEDS", needs), manifest, **files), "club/owner-named")


def test_a_rule_without_code_stands_at_the_value_that_fails() -> None:
    found = expect(Finding, by_rule("{properties: {packs: {items: {properties: {cells: {maximum: 3}}}}}}"))
    assert (found.place.line, found.place.pointer, found.message) == (4, "/packs/0/cells", "nobody answers for it")
    assert [(r.place.file, r.place.line) for r in found.related] == [("preflint.yaml", 7)]


def test_a_missing_entry_stands_at_its_group() -> None:
    found = expect(Finding, by_rule("{properties: {aircraft: {required: [owner]}}}"))
    assert (found.place.line, found.place.column, found.place.end_column) == (2, 1, 9)


def test_silence_does_not_satisfy_a_rule() -> None:
    answer = expect(Unproven, by_rule("{properties: {aircraft: {properties: {owner: {minLength: 3}}}}}"))
    assert answer.message == "aircraft.owner is not recorded, and the club asks about it"
    satisfied = LIGHT.replace("name: Dunlin", "name: Dunlin, owner: R. Ashdown")
    assert isinstance(by_rule("{properties: {aircraft: {properties: {owner: {minLength: 3}}}}}", satisfied), Clear)


@pytest.mark.parametrize(("written", "asks", "named"), [
    ("packs: [{label: DU1, cells: 4}, {label: DU2}]", "packs: {items: {properties: {cells: ANY}}}",
     "cells of the pack DU2"),
    (
        "rotors: [{at: front-left, prop: {mass_g: 9}}, {at: rear-left, prop: {}}]",
        "rotors: {items: {properties: {prop: {properties: {mass_g: ANY}}}}}",
        "prop of the rotor at front-right",  # the layout has it, the manifest does not name it
    ),
])
def test_silence_in_a_list_is_named_by_its_entry(written: str, asks: str, named: str) -> None:
    needs = f"{{properties: {{{asks.replace('ANY', '{maximum: 99}')}}}}}"
    answer = expect(Unproven, by_rule(needs, f"preflint: 1\naircraft: {{name: Dunlin, layout: quad-x}}\n{written}\n"))
    assert (answer.message, answer.do) == (f"{named} is not recorded, and the club asks about it", f"write {named}")


def test_a_rule_asks_of_each_rotor_what_every_rotor_says() -> None:
    needs = "{properties: {rotors: {items: {properties: {prop: {properties: {diameter_in: {maximum: 11}}}}}}}}"
    found = expect(Finding, by_rule(needs))
    assert (found.place.line, found.place.pointer) == (3, "/every_rotor/prop/diameter_in")
    assert isinstance(by_rule(needs.replace("11", "12")), Clear)


def test_a_rule_points_into_the_shared_part() -> None:
    manifest = LIGHT.replace("{prop: {diameter_in: 12}}", "{prop: parts/big.yaml}")
    needs = "{properties: {every_rotor: {properties: {prop: {properties: {diameter_in: {maximum: 11}}}}}}}"
    found = expect(Finding, by_rule(needs, manifest, **{"parts/big.yaml": "diameter_in: 12\n"}))
    assert (found.place.file, found.place.line, found.place.column) == ("parts/big.yaml", 1, 14)


NO_KEYWORD = " is no keyword that a club rule may use; known: "


@pytest.mark.parametrize(("needs", "at", "complaint"), [
    ("{$ref: 'file:///etc/passwd'}", "$ref",
     '"$ref" is no keyword that a club rule may use; known: additionalProperties, allOf, '),
    ("{properties: {aircraft: {pattern: '(a+)+$'}}}", "pattern", f'"pattern"{NO_KEYWORD}'),
    ("{not: {items: {uniqueItems: true}}}", "uniqueItems", f'"uniqueItems"{NO_KEYWORD}'),
    ("{allOf: [{multipleOf: 2}]}", "multipleOf", f'"multipleOf"{NO_KEYWORD}'),
    ("{if: {format: date}, then: true}", "format", f'"format"{NO_KEYWORD}'),
    ("{patternProperties: {a: true}}", "patternProperties", f'"patternProperties"{NO_KEYWORD}'),
    ("{$dynamicRef: '#a'}", "$dynamicRef", '"$dynamicRef" is no keyword that a club rule may use; '),
    ("{propertis: {}}", "propertis",
     '"propertis" is no keyword that a club rule may use; did you mean "properties"?'),
    ("{then: {required: [site]}}", "then", "then judges nothing without if beside it"),
    ("{if: {required: [site]}}", "if", "if judges nothing without then or else beside it"),
    ("{properties: {packs: {maxContains: 1}}}", "maxContains", "maxContains judges nothing without contains beside it"),
    ("{allOf: [true, {minimum: heavy}]}", "heavy", 'JSON Schema cannot make sense of this as minimum; '),
    ("{minimum: heavy}", "heavy", 'JSON Schema cannot make sense of this as minimum; this is text: "heavy"'),
    ("{type: nubmer}", "nubmer", 'JSON Schema cannot make sense of this as type; this is text: "nubmer"'),
    ("{properties: {a: 3}}", "3", "a schema is needed here: a group of entries, or true or false"),
    ("{}", "{}", "needs is empty; write at least one entry, or leave it out"),
])
def test_a_schema_that_is_refused(needs: str, at: str, complaint: str) -> None:
    column = len("    needs: ") + needs.index(at) + 1
    assert refused(OWNER.replace("NEEDS", needs)).startswith(f"preflint.yaml:7:{column}: {complaint}")


def test_the_same_is_refused_without_the_extra_that_is_fast(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong, right = (OWNER.replace("NEEDS", needs) for needs in ("{minimum: heavy}", "{type: object}"))
    with_it = refused(wrong)
    monkeypatch.setitem(sys.modules, "jsonschema_rs", None)  # as where it is not installed
    assert refused(wrong) == with_it
    assert judged(right).verdict == "unproven"


def test_a_schema_that_is_too_large() -> None:
    many = ", ".join(f"a{i}: {{minimum: 1}}" for i in range(100))
    assert "this schema has 202 entries; at most 200 are taken" in refused(
        OWNER.replace("NEEDS", f"{{properties: {{{many}}}}}")
    )


def test_deferrals_forbidden_set_nothing_aside_and_say_so() -> None:
    manifest = LIGHT + (
        "deferred_defects: [{rule: club/owner-named, until: 2026-06-01, by: R. Ashdown, because: he is away}]\n"
    )
    rules = OWNER.replace("NEEDS", "{properties: {aircraft: {required: [owner]}}}")
    allowed, forbidden = judged(rules, manifest), judged(rules + "deferrals: forbidden\n", manifest)
    assert [entry.result.rule.id for entry in allowed.deferred] == ["club/owner-named"]
    assert forbidden.deferred == ()
    said = [finding for rule, _, finding in findings(forbidden) if rule == "club/no-deferrals"]
    assert [one.message for one in said] == ["the club lets nobody put a defect off: this entry sets nothing aside"]
    assert not any(rule == "club/no-deferrals" for rule, _, _ in findings(allowed))


@pytest.mark.parametrize(("policy", "complaint"), [
    ("tolerances: {voltage_scale: 1}\n",
     '2:14: no tolerance is named "voltage_scale"; did you mean "voltage_scale_percent"?'),
    ("tolerances: {voltage_scale_percent: 0}\n",
     "2:37: voltage_scale_percent must be more than 0 and at most 100000; 0 is written"),
    ("tolerances: {hover_age: 10}\nrecord_ages: {hover: 10}\n",
     "2:14: the age of hover stands under record_ages as well; keep one of them"),
    ("record_ages: {link_loss: 9}\n",
     '2:15: no kind of record with an age is named "link_loss"; did you mean "link_loss_test"?'),
    ("record_ages: {hover: 9.5}\n", "2:22: a whole number is needed here; this is the number 9.5"),
    ("needed_for_flight: [retention/nut-hnad]\n",
     '2:21: no rule or topic is named "retention/nut-hnad"; did you mean "retention/nut-hand"?'),
    ("freshness: [{record: hover, part: engine, work: [moved]}]\n", '2:35: no part is named "engine"; '),
    ("freshness: [{record: hover, part: motor, work: [moove]}]\n",
     '2:49: no kind of work is named "moove"; did you mean "moved"?'),
    ("freshness: [{record: hover, part: motor}]\n", '2:13: "work" is missing, as in work: [fitted, moved]'),
    ("limits: {arm: 9}\n", '2:10: "arm" is not known here; did you mean "arm_mm"?'),
    ("field_day: {date: 2026-02-30}\n", '2:19: "2026-02-30" is not in the calendar; write 2026-05-23'),
    ("field_day: {date: 2026-05-23, site: {latitude: 54.4}}\n",
     '2:38: "latitude" is not known here; did you mean "latitude_deg"?'),
    ("deferrals: never\n", '2:12: "never" is not known here; write allowed or forbidden'),
    ("takeoff_mass_g: 9\n", '2:1: "takeoff_mass_g" is not known here; write one of preflint, club, '),
    (OWNER.replace("NEEDS", "{required: [site]}").replace("id: club/owner-named", "club: owner-named"),
     '3:5: "club" is not known here'),
    (OWNER.replace("NEEDS", "{required: [site]}").replace("club/owner-named", "7"), "3:9: text is needed here"),
    (OWNER.replace("NEEDS", "{required: [site]}").replace("club/owner-named", "retention/nut-hand"),
     "3:9: something such as club/owner-named is needed here"),
    (
        OWNER.replace("NEEDS", "{required: [site]}").replace("club/owner-named", "club/arm-length")
        + "limits: {arm_mm: 9}\n",
        "3:9: club/arm-length is the rule that limits makes; give this one another id",
    ),
    (OWNER.replace("NEEDS", "{required: [site]}") * 2,
     '"rules" is written on line 2 and again on line 8; keep one of them'),
])
def test_a_policy_that_is_wrong_says_where_and_what(policy: str, complaint: str) -> None:
    with pytest.raises(
        UsageError, match=r"^the policy (is wrong, nothing was judged|cannot be read): preflint.yaml:"
    ) as error:
        judged(policy)
    assert complaint in str(error.value)


def test_two_rules_of_one_id_and_one_that_a_module_has_already() -> None:
    rule = OWNER.replace("NEEDS", "{required: [site]}")
    twice = rule + rule.replace("rules:\n", "")
    assert refused(twice) == (
        "preflint.yaml:8:9: a rule club/owner-named stands on line 3 already; give each its own id"
    )
    assert "a group of entries is needed here" in refused(rule.replace("{required: [site]}", "7"))
    with pytest.raises(UsageError, match="a rule club/mass-limit exists already; give the club's another id"):
        inspect_text(
            LIGHT, rules=["preflint_sample"],
            files={"preflint.yaml": "preflint: 1\n" + rule.replace("club/owner-named", "club/mass-limit")},
        )


def test_several_faults_are_told_at_once() -> None:
    said = refused("limits: {arm: 9}\ndeferrals: never\n")
    assert [part.split(":")[1] for part in said.split(" | ")] == ["2", "3"]


@pytest.mark.parametrize(("faults", "end"), [(5, '"arm4" is not known here'), (6, "and 1 more")])
def test_of_many_faults_the_first_five_are_told(faults: int, end: str) -> None:
    said = refused("".join(f"arm{n}: 1\n" for n in range(faults))).split(" | ")
    assert len(said) == min(faults, 5) + (faults > 5)
    assert end in said[-1]


def test_a_site_of_the_field_day_that_is_not_there() -> None:
    with pytest.raises(
        UsageError, match=r"the policy cannot be read: preflint.yaml:2:37: sites/gone.yaml: there is no such file"
    ):
        judged("field_day: {date: 2026-05-23, site: sites/gone.yaml}\n")
