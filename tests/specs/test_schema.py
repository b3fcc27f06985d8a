import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from ruamel.yaml import YAML

from specs.schema import schema
from specs.starter import STARTER
from tests.helpers.specs_strategy import spec_trees

EXAMPLES = Path(__file__).parents[2] / "examples"
SCHEMA = schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def _plain(path):
    """The file as a plain YAML reader sees it: numbers, text, true and false."""
    with path.open(encoding="utf-8") as file:
        return YAML(typ="safe", pure=True).load(file)


def _swapped(keys, value):
    """The demo with one value swapped."""
    tree = _plain(EXAMPLES / "reading-room-cabinet.yaml")
    here = tree
    for key in keys[:-1]:
        here = here[key]
    here[keys[-1]] = value
    return tree


def test_it_is_a_json_schema_of_2020_12_and_plain_json():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("path", [*sorted(EXAMPLES.glob("*.yaml")), STARTER], ids=lambda p: p.stem)
def test_every_example_and_the_starter_are_valid(path):
    assert [error.message for error in VALIDATOR.iter_errors(_plain(path))] == []


@pytest.mark.parametrize(
    ("keys", "value"),
    [
        (("case", "wyidth"), 4),
        (("case", "size", "height"), ["450"]),
        (("case", "corners", "top"), "mitred"),
        (("base", "kind"), "splayd legs"),
        (("base", "legs", "top"), [58]),
        (("format",), 2),
        (("inside", "split"), "sideways"),
        (("inside", "into", 0, "doors", "count"), 3),
        (("materials", "oak", "kind"), "timber"),
        (("hardware", "runner", "opens"), "shove"),
        (("inside", "dividers", "joint", "kind"), "glue"),
    ],
)
def test_what_the_reader_refuses_is_not_valid(keys, value):
    assert not VALIDATOR.is_valid(_swapped(keys, value))


@pytest.mark.parametrize(
    ("keys", "value"),
    [
        (("case", "size", "height"), "17-3/4 in"),
        (("case", "corners", "top"), {"kind": "rabbet", "in": "sides", "depth": "9 mm"}),
        (("case", "joints", "top"), "spline"),
        (("inside", "into", 1, "size"), "1/2 share"),
        (("case", "edging"), {"kind": "veneer tape"}),
        (("inside", "dividers", "edging"), {"front": {"kind": "veneer tape"}}),
        (("inside", "into", 0, "doors", "stop"), "block"),
        (("inside", "into", 1, "drawers", "pull"), "knob"),
    ],
)
def test_short_and_long_forms_are_both_valid(keys, value):
    assert VALIDATOR.is_valid(_swapped(keys, value))


def test_a_bare_word_that_needs_more_keys_is_not_offered():
    assert not VALIDATOR.is_valid(_swapped(("inside", "into", 1, "drawers", "pull"), "bar"))


def test_every_key_has_a_line_that_says_what_it_is():
    sections = [SCHEMA, *SCHEMA["$defs"].values()]
    without = [
        f"{section.get('title', '')}.{key}"
        for section in sections
        for key, value in section.get("properties", {}).items()
        if not value.get("description")
    ]
    assert without == []
    assert all(section["description"] for section in SCHEMA["$defs"].values())


def test_no_section_takes_a_key_that_it_does_not_name():
    for name, section in SCHEMA["$defs"].items():
        if section["type"] == "object":
            assert section["additionalProperties"] is False, name


def _numbers_as_yaml_reads_them(value):
    match value:
        case dict():
            return {key: _numbers_as_yaml_reads_them(each) for key, each in value.items()}
        case list():
            return [_numbers_as_yaml_reads_them(each) for each in value]
        case _:
            return YAML(typ="safe", pure=True).load(value)


@given(spec_trees())
def test_whatever_the_reader_accepts_is_valid(tree):
    plain = _numbers_as_yaml_reads_them(tree)
    assert [error.message for error in VALIDATOR.iter_errors(plain)] == []
