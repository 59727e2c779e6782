"""The words of reports and manifests that a builder may not know, each with what it means; declared here alone."""

from collections.abc import Mapping

from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    """``shown``: as a report writes the word, where it differs from the name that people ask for."""

    name: str
    meaning: str
    shown: str = ""


_TERMS = (
    # verdicts and severities
    Term(
        "no-go",
        "As a verdict: something found must be put right before flight. As a severity: a finding that grounds by "
        "itself, and that nobody can defer.",
        "NO-GO",
    ),
    Term(
        "unproven",
        "As a verdict: nothing found forbids flight, but something that flight needs is not shown, and missing "
        "evidence is never a pass. As a rule's answer: it cannot be told; the report says what to do to be able to.",
        "UNPROVEN",
    ),
    Term(
        "go-with-cautions",
        "A verdict: all that flight needs is shown, and there is at least one caution, which the pilot weighs.",
        "GO WITH CAUTIONS",
    ),
    Term(
        "go",
        "A verdict: all that flight needs is shown, and nothing worse than an advisory is found. It is no permission: "
        "the pilot decides, and local rules come first.",
        "GO",
    ),
    Term("caution", "A severity: a finding that does not forbid flight and that the pilot must weigh.", "CAUTION"),
    Term("advisory", "A severity: worth knowing; it changes no verdict.", "ADVISORY"),
    Term(
        "grounded",
        "It stays on the ground: its verdict is unproven, or it has a finding from the severity given by --ground-at "
        "on (no-go where nothing is given) that is not deferred.",
    ),
    # answers of a rule
    Term("finding", "A rule's answer: what is written down does not add up, at one place; the report says which."),
    Term("clear", "A rule's answer: what is written down adds up; the answer says on what grounds."),
    Term("not-applicable", "A rule's answer: the question does not arise on this aircraft.", "not applicable"),
    Term(
        "crashed",
        "A rule's answer: the rule itself failed, so what it asks is open. In the logbook: the aircraft crashed.",
        "broke down",
    ),
    Term(
        "deferred",
        "A caution or advisory that somebody answers for until a day, in deferred_defects. It stays in the report and "
        "grounds nothing; the verdict stays as it is.",
    ),
    Term("needed-for-flight", "Of a rule: without a clear answer to it the aircraft is unproven.", "needed for flight"),
    # records and what ends them
    Term(
        "record",
        "What an instrument showed or somebody saw, on a date, under records. It is never changed afterwards; a new "
        "one is added.",
    ),
    Term(
        "in-force",
        "Of a record: it still speaks, since no work and no age has ended it. Of settings: those that were in the "
        "flight controller while a record was taken (in_force).",
        "in force",
    ),
    Term(
        "outdated",
        "Of a record: work done since, or its age, has ended what it proves; take it again. The kinds of record and "
        "what ends each: preflint explain KIND.",
    ),
    Term("stale", "The same as outdated: work or age has ended what a record proves; take it again."),
    Term("absent", "Nothing is written down about it."),
    Term("uncertain", "The numbers are there, and their uncertainty is too wide for an answer."),
    Term("order-open", "Two entries of one day, without times: which came first decides, and is not recorded."),
    # how it sits, turns and is loaded
    Term(
        "position",
        "The name of a rotor's place, such as front-left, seen from above with the nose ahead; never a motor number. "
        "A coaxial arm adds -upper or -lower.",
    ),
    Term("cw", "Clockwise; the key says from where it is seen."),
    Term("ccw", "Counter-clockwise; the key says from where it is seen."),
    Term("spin", "The way a motor turns, as seen from above the aircraft: cw or ccw."),
    Term(
        "hand",
        "Of a prop: the way it turns with its rounded (leading) edges first, domed side toward you, cw or ccw. Of a "
        "thread: left-hand or right-hand; held upright it rises to the side of its hand.",
    ),
    Term(
        "domed-side",
        "The side of a prop that bulges; the other is flat or hollow. It points where the air comes from: up on a "
        "prop that lifts.",
        "domed side",
    ),
    Term(
        "flight-rig", "Every prop where it flies: on a motor of its own hand, domed side up.", "flight rig"
    ),
    Term(
        "inverted-load",
        "A route to load: every prop on a motor of the other spin and turned over, so that it pushes the aircraft "
        "down onto the bench. One missed prop turns it over.",
    ),
    Term("restrained", "A route to load: tied down in the flight rig; every tie carries full thrust."),
    Term("hover-log", "A route to load: means of a low, short hover, read from the flight log."),
    Term("route", "How a run under load was made: inverted-load, restrained or hover-log."),
    Term(
        "manifest",
        "The file about one aircraft, named *.airframe.yaml: what is fitted, what tests showed, what work was done.",
    ),
    Term(
        "log",
        "The work done on the aircraft and every mishap, each with its day; it stands under logbook. To add an entry: "
        "preflint record log FILE. A flight log is another thing: a CSV file of readings.",
    ),
    Term("maiden-flight", "The first flight: none is in the logbook, and no hover is on record.", "maiden flight"),
    Term("pack", "A flight battery, with a label of its own."),
    Term("setting", "A number or choice in the flight controller, written in the manifest under the part it is of."),
    # the ladder
    Term(
        "step",
        "One of three on the way to flight, by what is needed at hand: bench look, meter, load. Also called a rung.",
    ),
    Term("rung", "The same as a step: bench look, meter or load."),
    Term("may-wait", "Of a job: flight does not need it.", "(may wait)"),
    Term(
        "bench-look",
        "The first step: nothing but eyes and fingers. Nuts, props, spins, outputs, tilt, sticks, cut-off.",
        "bench look",
    ),
    Term(
        "meter",
        "The second step: scales, a voltmeter, the weather report and a map. Weight, volts, cells, warnings.",
    ),
    Term("load", "The third step: under load, with ties and a clamp meter, or a hover log. Amperes, sag, the compass."),
    # who judges by what
    Term("rule", "One question asked of the aircraft, named topic/name; preflint catalogue lists them."),
    Term("limit", "A number that a rule judges by; a club's policy may move it."),
    Term("policy", "A club's file preflint.yaml: its limits, rules and field day, for all aircraft below it."),
    Term("place", "Where a value stands: file, line and column."),
    Term(
        "standard-uncertainty",
        "How far a value may well be off: one standard deviation, in the value's unit.",
        "standard uncertainty",
    ),
)  # fmt: skip

GLOSSARY: Mapping[str, Term] = {term.name: term for term in _TERMS}
"""Every term by its name, in small letters with hyphens."""
