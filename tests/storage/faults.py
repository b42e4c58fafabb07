"""Run one piece of work in a process of its own whose n-th system call of a kind fails or kills it (Linux, strace)."""

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

# The calls of the writing path: files opened, read, written, told to the disk, renamed, removed, locked.
CALLS = (
    "openat",
    "read",
    "write",
    "pread64",
    "pwrite64",
    "fsync",
    "fdatasync",
    "ftruncate",
    "rename",
    "unlink",
    "mkdir",
    "fcntl",
    "flock",
    "newfstatat",
    "fstat",
    "lseek",
    "close",
)
CAN_TRACE = sys.platform == "linux" and shutil.which("strace") is not None
WENT_WELL, SAID, FAILED = 0, 10, 20
Work = Callable[[], None]


def run(work: Work, report: Path, *options: str) -> int:
    """Return the exit code of ``work`` run under strace with these options; what it says stands in ``report``.

    0: it went well; 10: it raised ValueError (one sentence); 20: anything else; below 0: killed by that signal.
    """
    mask = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGUSR1})
    child = os.fork()
    if child == 0:
        signal.sigwait({signal.SIGUSR1})
        os._exit(_code(work, report))
    signal.pthread_sigmask(signal.SIG_SETMASK, mask)
    tracer = subprocess.Popen(
        ["strace", "-qq", "-p", str(child), *options], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _wait_until_traced(child, tracer)
    os.kill(child, signal.SIGUSR1)
    _, status = os.waitpid(child, 0)
    tracer.wait()
    return os.waitstatus_to_exitcode(status)


def _code(work: Work, report: Path) -> int:
    code, said = WENT_WELL, ""
    try:
        work()
    except ValueError as error:  # GardenError among them
        code, said = SAID, str(error)
    except BaseException as error:  # noqa: BLE001 - the child's outermost boundary
        code, said = FAILED, repr(error)
    if said:
        handle = os.open(report, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.write(handle, said.encode())
        os.fsync(handle)
    return code


def _wait_until_traced(child: int, tracer: subprocess.Popen[bytes]) -> None:
    for _ in range(2000):
        if "TracerPid:\t0\n" not in Path(f"/proc/{child}/status").read_text(encoding="ascii"):
            return
        if tracer.poll() is not None:
            break
        time.sleep(0.002)
    raise RuntimeError("strace could not hold the process: this computer does not allow tracing")


def counted(work: Work, report: Path) -> Counter[str]:
    """Return how often ``work`` makes each of CALLS."""
    log = report.with_suffix(".trace")
    assert run(work, report, "-o", str(log), "-e", f"trace={','.join(CALLS)}") == WENT_WELL
    lines = log.read_text(encoding="utf-8", errors="replace").splitlines()
    return Counter(found[1] for line in lines if (found := re.match(r"(\w+)\(", line)))
