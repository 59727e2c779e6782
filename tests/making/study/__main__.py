"""The study from the command line; it prints what was missed and who was alarmed falsely, and exits with 1 then."""

import argparse
from collections import Counter, defaultdict
from concurrent.futures import ProcessPoolExecutor

from making.study.run import FAULTS, Line, Told, of_fault, of_pair, of_sound


def main() -> int:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--sound", type=int, default=1000, help="how many sound aircraft")
    ask.add_argument("--each", type=int, default=5, help="in how many aircraft each kind of fault")
    ask.add_argument("--pairs", type=int, default=500, help="how many aircraft with two faults")
    ask.add_argument("--jobs", type=int, default=1, help="in how many processes")
    asked = ask.parse_args()
    with ProcessPoolExecutor(asked.jobs) as pool:
        alarmed = tell_sound(list(pool.map(of_sound, range(asked.sound), chunksize=10)))
        each = pool.map(of_fault, range(len(FAULTS)), [asked.each] * len(FAULTS))
        missed = tell_faults([line for lines in each for line in lines])
        hidden = tell_faults(list(pool.map(of_pair, range(asked.pairs), chunksize=10)))
    return int(bool(alarmed or missed or hidden))


def tell_sound(told: list[Told]) -> int:
    """Returns how many were alarmed falsely: something was found that is more than advice."""
    verdicts = Counter(one.verdict for one in told)
    print(f"{len(told)} sound aircraft: " + ", ".join(f"{n} {verdict}" for verdict, n in sorted(verdicts.items())))
    for words, which in (("falsely alarmed by", "alarms"), ("held up by doubt of measurement by", "held_up")):
        seeds = defaultdict(list)
        for seed, one in enumerate(told):
            for rule in getattr(one, which):
                seeds[rule].append(seed)
        for rule, some in sorted(seeds.items()):
            print(f"  {words} {rule}: {len(some)}, such as {some[:5]}")
    return sum(bool(one.alarms) for one in told)


def tell_faults(lines: list[Line]) -> int:
    """Returns how many faults nothing was said of."""
    kinds = len({fault for line in lines for fault in line.faults})
    outcomes = Counter(outcome for line in lines for outcome in line.outcomes)
    print(f"{len(lines)} aircraft, {kinds} kinds of fault: " + ", ".join(f"{n} {o}" for o, n in outcomes.most_common()))
    for line in lines:
        for fault, outcome in zip(line.faults, line.outcomes, strict=True):
            if outcome not in ("named", "refused"):
                beside = f" beside {line.faults[line.faults[0] == fault]}" if len(line.faults) == 2 else ""
                print(f"  {outcome}: {fault}{beside}, aircraft {line.seed}, {line.verdict}; new: {line.new[:3]}")
    return outcomes["missed"]


if __name__ == "__main__":
    raise SystemExit(main())
