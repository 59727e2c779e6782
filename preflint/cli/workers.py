"""Who judges: this process, several on this machine, or a cluster that is there already."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from preflint.errors import UsageError

if TYPE_CHECKING:
    from concurrent.futures import Executor


@contextmanager
def workers(jobs: int, cluster: str | None) -> "Iterator[Executor | None]":
    """None for this process. Raises UsageError where both are asked for, or the cluster does not answer."""
    if cluster is not None:
        if jobs > 1:
            raise UsageError("--jobs and --cluster: name one of them")
        with _cluster(cluster) as executor:
            yield executor
    elif jobs > 1:
        from preflint.fleet.processes import Processes

        with Processes(jobs) as executor:
            yield executor
    else:
        yield None


@contextmanager
def _cluster(address: str) -> "Iterator[Executor]":
    try:
        from distributed import Client
    except ImportError:
        raise UsageError("--cluster needs dask.distributed: install preflint[cluster]") from None
    try:
        client = Client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError) as error:
        raise UsageError(f"--cluster {address}: {type(error).__name__}: {error}") from None
    with client, client.get_executor(pure=False) as executor:
        yield executor
