"""The independent readers see what is there, and complain of what is wrong."""

import json
import struct

import ezdxf

from tests.helpers.readers import dxf_as_parsed, glb_report


def glb(document) -> bytes:
    text = json.dumps(document).encode()
    text += b" " * (-len(text) % 4)
    chunk = struct.pack("<II", len(text), 0x4E4F534A) + text
    return struct.pack("<III", 0x46546C67, 2, 12 + len(chunk)) + chunk


def test_the_dxf_reader_sees_a_true_circle_on_its_layer(tmp_path):
    document = ezdxf.new(units=4)
    document.modelspace().add_circle((10, 20), 2.5, dxfattribs={"layer": "drill"})
    document.saveas(tmp_path / "hole.dxf")
    (circle,) = dxf_as_parsed(tmp_path / "hole.dxf")["entities"]
    assert (circle["type"], circle["layer"], circle["radius"]) == ("CIRCLE", "drill", 2.5)


def test_the_glb_validator_tells_sound_from_unsound(tmp_path):
    (tmp_path / "sound.glb").write_bytes(glb({"asset": {"version": "2.0"}}))
    (tmp_path / "unsound.glb").write_bytes(glb({"asset": {"version": "2.0"}, "scene": 3}))
    assert glb_report(tmp_path / "sound.glb")["issues"]["numErrors"] == 0
    assert glb_report(tmp_path / "unsound.glb")["issues"]["numErrors"] == 1
