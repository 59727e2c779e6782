"""Prints how long things take as ratios within one run; nothing here is a test, and no figure is a promise.

Run it from the top folder: python tests/bench/ratios.py [OTHER]
OTHER is the `preflint` program of another environment, an earlier version say, timed beside this one in turns.
"""

import datetime as dt
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import yaml

from preflint.engine.rule_module import builtin_and
from preflint.inspection import inspect_manifest
from preflint.load.yaml.events import load_yaml
from preflint.load.yaml.scalars import plain_name, plain_word

CLUB = Path(__file__).parents[2] / "examples" / "club"
DAY = dt.date(2026, 5, 21)


def median_seconds(work: Callable[[], object], runs: int = 5) -> float:
    """The median of several runs after one that does not count."""
    work()
    taken = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def long_log(folder: Path, rows: int) -> Path:
    """An aircraft whose interference log has that many rows."""
    for beside in ("logs", "parts", "sites"):
        shutil.copytree(CLUB / beside, folder / beside)
    log = folder / "logs" / "curlew-2026-05-16.csv"
    head, *body = log.read_text().splitlines()
    clock = head.split(",").index("time_s")
    written = [head]
    for i in range(rows):
        row = body[i % len(body)].split(",")
        row[clock] = f"{0.2 * i:.1f}"
        written.append(",".join(row))
    log.write_text("\n".join(written) + "\n")
    return Path(shutil.copy(CLUB / "curlew.airframe.yaml", folder))


def one_club(program: str) -> float:
    """The seconds that one process takes to judge the club."""
    start = time.perf_counter()
    subprocess.run([program, "inspect", str(CLUB)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def load_beside_compose(manifests: list[bytes], forget: bool, runs: int = 40) -> float:
    """CPU of loading with places beside that of PyYAML's nodes by its C loader; ``forget`` makes every word new."""
    pairs = []
    for _ in range(runs):
        start = time.process_time()
        for data in manifests:
            yaml.compose(data.decode(), Loader=yaml.CLoader)
        between = time.process_time()
        for data in manifests:
            if forget:
                plain_name.cache_clear()
                plain_word.cache_clear()
            load_yaml(data, "a.airframe.yaml")
        pairs.append((between - start, time.process_time() - between))
    theirs, ours = map(statistics.median, zip(*pairs, strict=True))
    return ours / theirs


def main(other: str | None = None) -> None:
    """Prints the table."""
    registry = builtin_and(())
    program = str(Path(sys.executable).with_name("preflint"))
    manifests = [path.read_bytes() for path in sorted(CLUB.glob("*.airframe.yaml"))]
    again, first = (load_beside_compose(manifests, forget) for forget in (False, True))
    print(f"load with places beside yaml.compose, C loader: {again:.2f}; of a first document: {first:.2f}")
    quad = median_seconds(lambda: inspect_manifest(CLUB / "wheatear.airframe.yaml", DAY, registry))
    octo = median_seconds(lambda: inspect_manifest(CLUB / "heron.airframe.yaml", DAY, registry))
    print(f"an octo against a quad, in process: {octo / quad:.2f}")
    null = subprocess.DEVNULL
    start = median_seconds(lambda: subprocess.run([program, "--help"], stdout=null, check=True))
    whole = median_seconds(lambda: subprocess.run([program, "inspect", str(CLUB)], stdout=null, check=False))
    print(f"the whole club against --help, as processes: {whole / start:.2f}")
    with tempfile.TemporaryDirectory() as folder:
        short, long = (long_log(Path(folder, str(n)), n) for n in (1_000, 100_000))
        ratio = median_seconds(lambda: inspect_manifest(long, DAY, registry), 3) / median_seconds(
            lambda: inspect_manifest(short, DAY, registry), 3
        )
        print(f"a log of 100 000 rows against one of 1 000: {ratio:.2f}")
    if other:
        pairs = [(one_club(program), one_club(other)) for _ in range(5)]
        print(f"the whole club against {other}: {statistics.median(ours / theirs for ours, theirs in pairs):.2f}")


if __name__ == "__main__":
    main(*sys.argv[1:2])
