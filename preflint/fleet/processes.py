"""Processes of our own that judge: one that ends loses only what it was at, and none outlives the first."""

import contextlib
import gc
import os
import pickle
import signal
import subprocess
import sys
import threading
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from queue import SimpleQueue
from typing import Any, ParamSpec, TypeVar

from preflint.arrays import one_thread
from preflint.errors import PreflintError, told

P = ParamSpec("P")
T = TypeVar("T")

# It imports from where the first process does, and from nowhere else: -P keeps the current folder out.
_START = (
    "import sys; sys.path[:] = sys.argv[3:]; "
    "from preflint.fleet.processes import serve; serve(int(sys.argv[1]), int(sys.argv[2]))"
)


class Processes(Executor):
    """So many processes, each started when it is first needed. Leaving it ends them, whatever they are at."""

    def __init__(self, jobs: int) -> None:
        self._threads = ThreadPoolExecutor(jobs, initializer=_leave_interrupts_to_the_first)
        self._own = threading.local()  # each thread has the process that it asks
        self._running: set[_Process] = set()
        self._lock = threading.Lock()
        self._closed = False

    def submit(self, function: Callable[P, T], /, *arguments: P.args, **named: P.kwargs) -> Future[T]:
        """What the process raises by itself comes back; BrokenExecutor where it ended before it answered."""
        return self._threads.submit(self._ask, function, arguments, named)

    def _ask(self, *question: Any) -> Any:
        process = getattr(self._own, "process", None) or self._start()
        try:
            good, answer = process.ask(question)
        except (OSError, EOFError, pickle.UnpicklingError) as error:
            self._own.process = None
            with self._lock:
                self._running.discard(process)
            process.end()
            process.close()
            raise BrokenExecutor("the process ended before it answered") from error
        if not good:
            raise answer
        return answer

    def _start(self) -> "_Process":
        with self._lock:
            if self._closed:
                raise BrokenExecutor("no process is started any more")
            process = self._own.process = _Process()
            self._running.add(process)
        return process

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Ends every process at once; who wants an answer waits for it before."""
        with self._lock:
            self._closed = True
            running = tuple(self._running)
        for process in running:
            process.end()
        self._threads.shutdown(wait, cancel_futures=True)
        if wait:  # else a thread may still be reading
            for process in running:
                process.close()


class _Process:
    """One process, asked one thing after the other by way of two pipes; its standard output is as it was."""

    def __init__(self) -> None:
        theirs_in, ours_out = os.pipe()
        ours_in, theirs_out = os.pipe()
        kept = [f"-{flag}" for flag, on in (("E", sys.flags.ignore_environment), ("s", sys.flags.no_user_site)) if on]
        command = [sys.executable, "-P", *kept, "-c", _START, str(theirs_in), str(theirs_out), *sys.path]
        environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
        one_thread(environment)
        try:
            self._process = subprocess.Popen(
                command, stdin=subprocess.DEVNULL, pass_fds=(theirs_in, theirs_out), env=environment
            )
        finally:
            os.close(theirs_in)
            os.close(theirs_out)
        self._questions, self._answers = os.fdopen(ours_out, "wb"), os.fdopen(ours_in, "rb")

    def ask(self, question: Any) -> Any:
        pickle.dump(question, self._questions)
        self._questions.flush()
        return pickle.load(self._answers)

    def end(self) -> None:
        self._process.kill()
        self._process.wait()

    def close(self) -> None:
        """Once it has ended and nobody asks it any more."""
        for pipe in (self._questions, self._answers):
            with contextlib.suppress(OSError):  # what was not sent is for nobody
                pipe.close()


def _leave_interrupts_to_the_first() -> None:
    # A new process inherits what the thread that starts it has blocked.
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})


def serve(questions: int, answers: int) -> None:
    """What a process does: it answers until the first one is gone, however that came to its end."""
    gc.set_threshold(100_000, 20, 20)  # as the first process has it
    asked: SimpleQueue[Any] = SimpleQueue()
    threading.Thread(target=_listen, args=(questions, asked), daemon=True).start()
    with os.fdopen(answers, "wb") as file:
        while True:
            function, arguments, named = asked.get()
            try:
                answer = True, function(*arguments, **named)
            except PreflintError as error:
                answer = False, error
            except BaseException as error:  # of any class, which need not travel
                answer = False, RuntimeError(told(error))
            file.write(pickle.dumps(answer))
            file.flush()


def _listen(questions: int, asked: "SimpleQueue[Any]") -> None:
    """Apart from the work, so that the end of the first process is noticed in the middle of it."""
    try:
        with os.fdopen(questions, "rb") as file:
            while True:
                asked.put(pickle.load(file))
    finally:
        os._exit(0)
