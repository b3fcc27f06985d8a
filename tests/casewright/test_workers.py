"""Workers: results come back whatever happens, and no process is left behind."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from casewright.workers import Ended, Failure, Started, StartError, Trouble, Workers
from tests.helpers import jobs


def ended(workers) -> dict[str, Ended]:
    return {event.key: event for event in workers.events() if isinstance(event, Ended)}


def gone(pid: int) -> bool:
    """Tell whether a process has ended, within 5 s (a zombie has)."""
    for _ in range(100):
        try:
            state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
        except FileNotFoundError:
            return True
        if state == "Z":
            return True
        time.sleep(0.05)
    return False


def test_every_job_comes_back_with_its_own_result():
    with Workers(2, prepare=jobs.prepare) as workers:
        for number in range(20):
            workers.submit(str(number), jobs.twice, number)
        found = ended(workers)
    assert {key: event.value for key, event in found.items()} == {
        str(number): 2 * number for number in range(20)
    }


def test_a_job_is_announced_before_it_ends():
    with Workers(1, prepare=jobs.prepare) as workers:
        workers.submit("a", jobs.twice, 1)
        assert list(workers.events()) == [Started(key="a"), Ended(key="a", value=2)]


def test_more_jobs_may_follow_when_all_have_ended():
    with Workers(2, prepare=jobs.prepare) as workers:
        workers.submit("a", jobs.twice, 1)
        assert ended(workers)["a"].value == 2
        workers.submit("b", jobs.twice, 2)
        assert ended(workers)["b"].value == 4


def test_what_a_library_prints_does_not_get_into_the_answers():
    with Workers(1, prepare=jobs.prepare) as workers:
        workers.submit("a", jobs.chatter, 7)
        assert ended(workers)["a"].value == 7


def test_a_job_that_hangs_is_ended_and_the_rest_goes_on():
    with Workers(1, prepare=jobs.prepare, limit=1.0) as workers:
        workers.submit("slow", jobs.hang)
        workers.submit("quick", jobs.twice, 1)
        found = ended(workers)
    assert found["slow"].failure == Failure(
        trouble=Trouble.TIME, reason="took longer than 1 s and was ended"
    )
    assert found["quick"].value == 2


@pytest.mark.parametrize(("job", "how"), [(jobs.crash, "by SIGSEGV"), (jobs.leave, "with exit 3")])
def test_a_process_that_crashes_is_replaced_and_the_rest_goes_on(job, how):
    with Workers(1, prepare=jobs.prepare) as workers:
        workers.submit("crash", job)
        workers.submit("quick", jobs.twice, 1)
        found = ended(workers)
    assert found["crash"].failure == Failure(
        trouble=Trouble.CRASH, reason=f"the process that made it was ended {how}"
    )
    assert found["quick"].value == 2


def test_a_build_error_comes_back_with_its_part_and_cut():
    with Workers(1, prepare=jobs.prepare) as workers:
        workers.submit("a", jobs.refuse)
        failure = ended(workers)["a"].failure
    assert failure == Failure(
        trouble=Trouble.REFUSED, reason="two solids", part="D2 drawer side", cut="groove-1"
    )


def test_an_exception_nobody_foresaw_comes_back_in_one_line():
    with Workers(1, prepare=jobs.prepare) as workers:
        workers.submit("a", jobs.stumble)
        failure = ended(workers)["a"].failure
    assert failure is not None
    assert failure.trouble is Trouble.FAULT
    assert failure.reason.startswith("ZeroDivisionError: division by zero (jobs.py, line ")


def test_workers_that_cannot_start_say_why():
    with Workers(2, prepare=jobs.prepare_in_vain) as workers:
        workers.submit("a", jobs.twice, 1)
        with pytest.raises(StartError, match=r"libNone\.so\.1: cannot open shared object file"):
            ended(workers)


def test_no_process_is_left_when_the_work_is_dropped_half_way(tmp_path):
    note = tmp_path / "pid"
    with Workers(2, prepare=jobs.prepare) as workers:
        workers.submit("who", jobs.who)
        pid = ended(workers)["who"].value
        workers.submit("hang", jobs.hang, str(note))
        while not note.exists() or not note.read_text():
            time.sleep(0.01)
    assert gone(pid)
    assert gone(int(note.read_text()))


PARENT = """
import sys
from casewright.workers import Workers
from tests.helpers import jobs
with Workers(2, prepare=jobs.prepare) as workers:
    workers.submit("a", jobs.hang, sys.argv[1])
    workers.submit("b", jobs.hang, sys.argv[2])
    for event in workers.events():
        pass
"""


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT, signal.SIGTERM])
def test_no_process_outlives_its_parent(tmp_path, how):
    notes = [tmp_path / "a", tmp_path / "b"]
    command = [sys.executable, "-c", PARENT, *map(str, notes)]
    with subprocess.Popen(command, stderr=subprocess.DEVNULL, cwd=Path.cwd()) as parent:
        while not all(note.exists() and note.read_text() for note in notes):
            assert parent.poll() is None
            time.sleep(0.01)
        os.kill(parent.pid, how)
        assert parent.wait(timeout=10) != 0
    assert all(gone(int(note.read_text())) for note in notes)
