"""The date in files is fixed, or the one asked for."""

import pytest

from exporters.stamp import iso_date, maker, version


def test_files_are_dated_the_same_every_day(monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    assert iso_date() == "1980-01-01T00:00:00"


def test_a_date_asked_for_is_kept(monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    assert iso_date() == "2023-11-14T22:13:20"


@pytest.mark.parametrize("stray", ["", "soon", "1e9", "9" * 30, "-" + "9" * 30])
def test_a_stray_variable_is_no_date(stray, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", stray)
    assert iso_date() == "1980-01-01T00:00:00"


def test_files_name_the_program_and_its_version():
    assert maker() == f"casewright {version()}"
