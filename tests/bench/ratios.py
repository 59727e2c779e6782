"""Prints how long things take as ratios within one run; nothing here is a test, and no figure is a promise.

Run it from the top folder: python tests/bench/ratios.py [OTHER]
OTHER is the `preflint` program of another environment, an earlier version say, timed beside this one in turns.
"""

import datetime as dt
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from preflint.engine.rule_module import builtin_and
from preflint.inspection import inspect_manifest

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
    text = (CLUB / "curlew.airframe.yaml").read_text()
    log = next(CLUB.glob("logs/curlew-*.csv")).read_text().splitlines()
    (folder / "logs").mkdir(parents=True)
    (folder / "sites").mkdir()
    (folder / "sites" / "tarn-meadow.yaml").write_bytes((CLUB / "sites" / "tarn-meadow.yaml").read_bytes())
    body = log[1:]
    wanted = next(CLUB.glob("logs/curlew-*.csv")).name
    (folder / "logs" / wanted).write_text("\n".join([log[0], *(body[i % len(body)] for i in range(rows))]) + "\n")
    manifest = folder / "curlew.airframe.yaml"
    manifest.write_text(text)
    return manifest


def one_club(program: str) -> float:
    """The seconds that one process takes to judge the club."""
    start = time.perf_counter()
    subprocess.run([program, "inspect", str(CLUB)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def main(other: str | None = None) -> None:
    """Prints the table."""
    registry = builtin_and(())
    program = str(Path(sys.executable).with_name("preflint"))
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
