import os
import socket
from pathlib import Path

import pytest

from ground.errors import SpecError
from specs.reading import load


def _told(path):
    with pytest.raises(SpecError) as refusal:
        load(path)
    return "\n".join(refusal.value.lines()).replace(f"{path}", "FILE")


def test_a_missing_file(tmp_path):
    assert _told(tmp_path / "no.yaml") == "FILE: the spec: there is no such file; check the name"


def test_a_folder(tmp_path):
    assert _told(tmp_path) == "FILE: the spec: is a folder; name a file in it, such as cabinet.yaml"


def test_a_link_is_not_followed(tmp_path):
    (tmp_path / "real.yaml").write_text("format: 1\n")
    link = tmp_path / "link.yaml"
    link.symlink_to(tmp_path / "real.yaml")
    assert _told(link) == "FILE: the spec: is a link; name the file that it leads to"


@pytest.mark.timeout(10)
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.yaml")
    assert _told(tmp_path / "pipe.yaml") == "FILE: the spec: is a pipe; name a file"


@pytest.mark.timeout(10)
def test_a_device_is_not_read():
    assert _told(Path("/dev/zero")) == ("FILE: the spec: is a device; name a file")


def test_a_socket(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # a socket's path may only be short
    with socket.socket(socket.AF_UNIX) as end:
        end.bind("s.yaml")
        assert _told(tmp_path / "s.yaml") == "FILE: the spec: is a socket; name a file"


def test_an_empty_file(tmp_path):
    (tmp_path / "empty.yaml").touch()
    assert _told(tmp_path / "empty.yaml") == (
        "FILE: the spec: is empty; 'casewright new' writes one to start from"
    )


@pytest.mark.timeout(10)
def test_a_file_of_200_mb_is_not_read(tmp_path):
    with (tmp_path / "huge.yaml").open("wb") as file:
        file.truncate(200_000_000)
    assert _told(tmp_path / "huge.yaml") == (
        "FILE: the spec: is 200.0 MB large, over 1 MiB; a spec is a page or two of text"
    )


def test_text_that_is_not_utf_8_is_told_with_its_place(tmp_path):
    (tmp_path / "latin.yaml").write_bytes("format: 1\nname: é Étagère".encode()[:-7] + b"\xc9t\n")
    assert _told(tmp_path / "latin.yaml") == (
        "FILE:2:10: the spec: byte 0xC9 is not UTF-8; save the file as UTF-8 text"
    )


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    (tmp_path / "shut.yaml").write_text("format: 1\n")

    def refuse(*_args):
        raise PermissionError

    monkeypatch.setattr(os, "open", refuse)
    assert _told(tmp_path / "shut.yaml") == (
        "FILE: the spec: may not be read; check the file's permissions"
    )


def test_a_name_with_a_null_character(tmp_path):
    assert _told(tmp_path / "a\0b").endswith("; check the name")


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path):
    (tmp_path / "bom.yaml").write_bytes(b"\xef\xbb\xbfformat: 1\n")
    assert _told(tmp_path / "bom.yaml").startswith("FILE:1:1: the spec: the key 'name' is missing")
