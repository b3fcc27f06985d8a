"""The folder appears whole or not at all, and nothing but a package of ours is ever replaced."""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from exporters import exchange
from exporters.package import staged, target
from ground.errors import PackageError
from tests.helpers.packages import beside, build, fill, generation_of


def unable(a: Path, b: Path) -> bool:
    """A system that cannot exchange two names."""
    del a, b
    return False


WAYS = {"in one step": exchange.swap, "step by step": unable}


@pytest.fixture
def spec(tmp_path):
    place = tmp_path / "specs" / "chest.yaml"
    place.parent.mkdir()
    place.write_text("name: Chest\n")
    return place


@pytest.fixture(params=list(WAYS))
def swap(request):
    return WAYS[request.param]


def test_a_new_package_appears_with_its_folders_and_nothing_beside_it(tmp_path):
    place = tmp_path / "not there yet" / "chest"
    build(place)
    assert generation_of(place) == 1
    assert beside(place) == []


def test_a_new_package_is_as_open_to_others_as_a_new_folder(tmp_path):
    build(tmp_path / "chest")
    (tmp_path / "plain").mkdir()
    assert (tmp_path / "chest").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_an_older_package_is_replaced_whole(tmp_path, swap):
    place = tmp_path / "chest"
    build(place, 1)
    with staged(place, swap=swap) as stage:
        fill(stage, 2, files=3)
    assert generation_of(place) == 2
    assert beside(place) == []


def test_an_empty_folder_is_filled(tmp_path):
    place = tmp_path / "chest"
    place.mkdir()
    build(place)
    assert generation_of(place) == 1


def test_a_build_that_fails_leaves_the_older_package_and_nothing_else(tmp_path, swap):
    place = tmp_path / "chest"
    build(place, 1)

    def fail():
        with staged(place, swap=swap) as stage:
            fill(stage, 2)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert generation_of(place) == 1
    assert beside(place) == []


def test_a_first_build_that_fails_leaves_no_folders_behind(tmp_path):
    place = tmp_path / "a" / "b" / "chest"

    def fail():
        with staged(place):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert list(tmp_path.iterdir()) == []


def test_what_a_user_adds_while_the_build_runs_is_not_lost(tmp_path, swap):
    place = tmp_path / "chest"
    build(place, 1)

    def meddle():
        with staged(place, swap=swap) as stage:
            fill(stage, 2)
            (place / "notes.txt").write_text("measured again")

    with pytest.raises(PackageError, match=r"holds 'notes\.txt', which no build wrote"):
        meddle()
    assert (place / "notes.txt").read_text() == "measured again"
    (place / "notes.txt").unlink()
    assert generation_of(place) == 1
    assert beside(place) == []


def test_what_a_user_adds_in_the_very_last_moment_is_put_back(tmp_path, swap):
    """The look just before the exchange sees nothing; the one after it does."""
    place = tmp_path / "chest"
    build(place, 1)

    def late(a: Path, b: Path) -> bool:
        if not (b / "notes.txt").exists() and (b / "parts").exists():
            (b / "notes.txt").write_text("measured again")
        done: bool = swap(a, b)
        return done

    def meddle():
        with staged(place, swap=late) as stage:
            fill(stage, 2)

    with pytest.raises(PackageError, match=r"notes\.txt"):
        meddle()
    assert (place / "notes.txt").read_text() == "measured again"
    (place / "notes.txt").unlink()
    assert generation_of(place) == 1
    assert beside(place) == []


def test_two_builds_of_one_target_do_not_meet(tmp_path):
    place = tmp_path / "chest"

    def both():
        with staged(place), staged(place):
            pass

    message = f"{place}: another build is writing it; wait until that one has ended"
    with pytest.raises(PackageError) as told:
        both()
    assert str(told.value) == message
    assert not place.exists()


def test_a_name_as_long_as_a_file_system_allows_can_be_built(tmp_path):
    place = tmp_path / ("c" * 255)
    build(place, 1)
    build(place, 2)
    assert generation_of(place) == 2
    assert beside(place) == []


@pytest.mark.parametrize("path", ["../x", "/etc/x", "a/../../x", ".hidden", "a\\b", "", "a//b"])
def test_no_file_is_written_outside_of_the_stage(tmp_path, path):
    with staged(tmp_path / "chest") as stage, pytest.raises(ValueError, match="not a name"):
        stage.write(path, b"")


def refused(out, spec) -> str:
    with pytest.raises(PackageError) as told:
        target(str(out), spec)
    return str(told.value)


INSTEAD = "name a folder that is absent, empty or a package built before"


def test_the_folder_in_use_and_those_above_it_are_refused(tmp_path, spec, monkeypatch):
    (tmp_path / "here" / "deeper").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "here")
    assert refused(".", spec) == f".: is the folder you are in; {INSTEAD}"
    assert refused("..", spec) == f"..: holds the folder you are in; {INSTEAD}"
    assert refused("deeper/..", spec) == f"deeper/..: is the folder you are in; {INSTEAD}"
    assert refused("/", spec) == f"/: holds the folder you are in; {INSTEAD}"


def test_the_home_folder_is_refused_even_when_empty(tmp_path, spec, monkeypatch):
    home = tmp_path / "home" / "maker"
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    assert refused(home, spec) == f"{home}: is your home folder; {INSTEAD}"
    assert refused(home.parent, spec) == f"{home.parent}: holds your home folder; {INSTEAD}"
    assert refused("~", spec) == "--out ~: write the folder's name out in full"
    assert refused("", spec) == "--out is empty: write the folder's name out in full"


def test_the_specs_own_folder_and_those_above_it_are_refused(tmp_path, spec):
    folder = spec.parent
    assert refused(folder, spec) == f"{folder}: is the spec's own folder; {INSTEAD}"
    assert refused(tmp_path, spec) == f"{tmp_path}: holds the spec's own folder; {INSTEAD}"


def test_a_link_is_refused_and_one_above_is_followed(tmp_path, spec):
    build(tmp_path / "chest")
    (tmp_path / "link").symlink_to(tmp_path / "chest")
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    (tmp_path / "place").mkdir()
    (tmp_path / "way").symlink_to(tmp_path / "place")
    for name in ("link", "dangling"):
        out = tmp_path / name
        assert refused(out, spec) == f"{out}: is a link; name the folder itself"
    assert target(str(tmp_path / "way" / "chest"), spec) == tmp_path / "place" / "chest"


def test_a_link_above_leads_to_no_folder_that_is_kept(tmp_path, spec):
    (tmp_path / "way").symlink_to(tmp_path)
    out = tmp_path / "way" / "specs"
    assert refused(out, spec) == f"{out}: is the spec's own folder; {INSTEAD}"


def test_a_file_in_place_of_the_folder_is_refused(tmp_path, spec):
    out = tmp_path / "chest"
    out.write_text("")
    assert refused(out, spec) == f"{out}: is not a folder; {INSTEAD}"


def test_a_pipe_in_place_of_the_folder_is_refused_without_waiting(tmp_path, spec):
    out = tmp_path / "chest"
    os.mkfifo(out)
    assert refused(out, spec) == f"{out}: is not a folder; {INSTEAD}"


@pytest.mark.parametrize(
    "record",
    [
        None,
        "",
        "{",
        "[]",
        "1",
        '{"format": "another program 1", "files": []}',
        '{"format": "casewright package 1"}',
        '{"format": "casewright package 1", "files": [1]}',
        "[" * 5000,
    ],
)
def test_a_folder_without_a_record_of_ours_is_refused(tmp_path, spec, record):
    out = tmp_path / "photos"
    out.mkdir()
    (out / "cat.jpg").write_text("")
    if record is not None:
        (out / "build.json").write_text(record)
    assert refused(out, spec) == f"{out}: holds something else than a package; {INSTEAD}"


@pytest.mark.parametrize("stray", ["notes.txt", "parts/mine.txt", "empty", "parts/link"])
def test_a_package_with_anything_of_the_users_in_it_is_refused(tmp_path, spec, stray):
    out = tmp_path / "chest"
    build(out)
    if stray == "empty":
        (out / stray).mkdir()
    elif stray == "parts/link":
        (out / stray).symlink_to(out / "parts" / "P1.txt")
    else:
        (out / stray).write_text("")
    assert refused(out, spec) == (
        f"{out}: holds {stray!r}, which no build wrote; move it away, or {INSTEAD}"
    )


def test_a_listed_file_that_became_a_link_is_no_file_of_ours(tmp_path, spec):
    out = tmp_path / "chest"
    build(out)
    (out / "parts" / "P1.txt").unlink()
    (out / "parts" / "P1.txt").symlink_to(spec)
    assert "'parts/P1.txt', which no build wrote" in refused(out, spec)


def test_a_package_that_lost_a_file_is_still_a_package(tmp_path, spec):
    out = tmp_path / "chest"
    build(out)
    (out / "parts" / "P1.txt").unlink()
    assert target(str(out), spec) == out


def test_a_place_below_a_file_cannot_be_written(spec):
    out = spec / "chest"
    with pytest.raises(PackageError) as told, staged(target(str(out), spec)):
        pass
    assert str(told.value) == f"{out}: cannot be written (not a directory)"


@pytest.mark.skipif(
    not Path("/proc/self").exists(), reason="a Linux file system that takes no folder"
)
def test_a_place_that_takes_no_folder_cannot_be_written(spec):
    with pytest.raises(PackageError) as told, staged(target("/proc/chest", spec)):
        pass
    assert str(told.value) == "/proc/chest: cannot be written (no such file or directory)"


def test_a_place_without_permission_cannot_be_written(tmp_path, spec):
    closed = tmp_path / "closed"
    closed.mkdir(mode=0o500)
    mine = os.geteuid()
    if mine == 0:
        os.seteuid(65534)  # root may write everywhere; nobody may not
    try:
        with pytest.raises(PackageError) as told, staged(target(str(closed / "chest"), spec)):
            pass
    finally:
        os.seteuid(mine)
    assert str(told.value) == f"{closed / 'chest'}: cannot be written (permission denied)"


ENDLESS = """
import sys
from pathlib import Path
from exporters import exchange
from exporters.package import staged
from tests.helpers.packages import fill
place, first, way = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
swap = exchange.swap if way == "in one step" else (lambda a, b: False)
print("ready", flush=True)
for generation in range(first, first + 10_000):
    with staged(place, swap=swap) as stage:
        fill(stage, generation)
"""


@pytest.mark.parametrize("way", WAYS)
def test_a_build_that_is_killed_leaves_a_whole_package(tmp_path, way):
    """Killed with no warning 25 times, at moments spread over whole builds.

    In one step, the folder is whole at every moment; step by step it is whole once the next
    build has looked, which is all that such a system allows.
    """
    place = tmp_path / "chest"
    start = time.perf_counter()
    build(place, 1)
    a_build = time.perf_counter() - start
    moments = random.Random(7)  # noqa: S311 - moments, not secrets
    newest = 1
    for round_ in range(25):
        command = [sys.executable, "-c", ENDLESS, str(place), str(newest + 1), way]
        with subprocess.Popen(command, stdout=subprocess.PIPE, cwd=Path.cwd()) as victim:
            assert victim.stdout is not None
            assert victim.stdout.readline() == b"ready\n"
            time.sleep(moments.uniform(0.0, 4 * a_build))
            victim.kill()
        if way == "step by step":
            with exchange.locked(place):
                exchange.sweep(place)
        found = generation_of(place)
        assert found >= newest, round_
        newest = found
    assert newest > 1
    build(place, newest + 1)
    assert beside(place) == []
