"""The spec is put anew in one step, and nothing that took its place is touched."""

import os
import stat

import pytest

from casewright.live import spec_file
from casewright.live.spec_file import replace_text
from ground.errors import PackageError, SpecError


@pytest.fixture
def spec(tmp_path):
    path = tmp_path / "piece.yaml"
    path.write_bytes(b"a: 1\r\n")
    return path


def test_the_text_is_replaced_with_its_line_ends_and_permissions(spec):
    spec.chmod(0o640)
    replace_text(spec, "a: 1\r\n", "a: 2\r\n")
    assert spec.read_bytes() == b"a: 2\r\n"
    assert stat.S_IMODE(spec.stat().st_mode) == 0o640
    assert [path.name for path in spec.parent.iterdir()] == ["piece.yaml"]


def test_a_file_that_was_changed_meanwhile_is_left_alone(spec):
    with pytest.raises(PackageError, match="was changed meanwhile"):
        replace_text(spec, "a: 0\n", "a: 2\n")
    assert spec.read_bytes() == b"a: 1\r\n"


def test_a_link_that_took_the_files_place_is_not_followed(spec, tmp_path):
    other = tmp_path / "other.yaml"
    spec.rename(other)
    spec.symlink_to(other)
    with pytest.raises(SpecError, match="is a link"):
        replace_text(spec, "a: 1\r\n", "a: 2\r\n")
    assert other.read_bytes() == b"a: 1\r\n"


def test_a_folder_that_took_the_files_place_is_left_alone(spec):
    spec.unlink()
    spec.mkdir()
    with pytest.raises(SpecError, match="is a folder"):
        replace_text(spec, "a: 1\r\n", "a: 2\r\n")
    assert spec.is_dir()


@pytest.mark.parametrize("kind", ["link", "folder"])
def test_one_that_is_swapped_at_the_last_moment_is_not_written_through(
    spec, tmp_path, monkeypatch, kind
):
    """Between the reading and the writing somebody puts something else there."""
    other = tmp_path / "other.yaml"
    real = os.fsync

    def swap(handle: int) -> None:
        real(handle)
        spec.rename(other)
        if kind == "link":
            spec.symlink_to(other)
        else:
            spec.mkdir()

    monkeypatch.setattr(os, "fsync", swap)
    with pytest.raises(PackageError, match="is no longer a plain file; nothing was written"):
        replace_text(spec, "a: 1\r\n", "a: 2\r\n")
    assert other.read_bytes() == b"a: 1\r\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["other.yaml", "piece.yaml"]


def test_a_folder_that_may_not_be_written_is_told(spec, monkeypatch):
    def refuse(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    monkeypatch.setattr(spec_file, "text_in", lambda _path: "a: 1\r\n")
    with pytest.raises(PackageError, match=r"cannot be written \(permission denied\)"):
        replace_text(spec, "a: 1\r\n", "a: 2\r\n")
