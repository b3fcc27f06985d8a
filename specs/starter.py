"""The spec to start from: a small stand beside a bed, every line explained."""

import json
from pathlib import Path

from specs.fields import LONGEST_NAME

STARTER = Path(__file__).with_name("starter.yaml")
_NAMED = "name: Night stand "


def starter(name: str) -> str:
    """The commented spec to start from, for a piece called ``name`` (any text)."""
    text = STARTER.read_text(encoding="utf-8")
    plain = "".join(sign if sign.isprintable() else " " for sign in name).strip()[:LONGEST_NAME]
    if not plain:
        return text
    return text.replace(_NAMED, f"name: {json.dumps(plain, ensure_ascii=False)} ", 1)
