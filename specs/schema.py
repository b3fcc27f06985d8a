"""The JSON Schema of a spec (2020-12), for editors to complete and check from."""

from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from specs.spec import Spec

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """The schema of what an editor sees: numbers and text where the spec has text, short forms."""
    made = Spec.model_json_schema(by_alias=True, mode="validation", schema_generator=_Generator)
    plain = _plain(made)
    return {"$schema": DIALECT, "title": "Casewright spec", **plain}


class _Generator(GenerateJsonSchema):
    """Writes a default only where it reads the same in every file."""

    def default_schema(self, schema: Any) -> dict[str, Any]:
        """Keep words and counts; a length would be mm here and may be inches in the file."""
        inner = self.generate_inner(schema["schema"])
        default = schema.get("default")
        return {**inner, "default": default} if isinstance(default, bool | int | str) else inner


def _plain(node: Any) -> Any:
    """``node`` without the keywords that are not JSON Schema's, and titles that repeat the key."""
    match node:
        case dict():
            kept = {key: _plain(value) for key, value in node.items() if not _dropped(key, value)}
            options = kept.get("anyOf", [])
            if {"type": "null"} in options:
                kept["anyOf"] = [option for option in options if option != {"type": "null"}]
                if len(kept["anyOf"]) == 1:
                    (only,) = kept.pop("anyOf")
                    kept = {**only, **kept}
            return kept
        case list():
            return [_plain(value) for value in node]
        case _:
            return node


def _dropped(key: str, value: Any) -> bool:
    """Tell the keyword ``discriminator`` and ``title`` from keys of a spec with such a name."""
    return (key == "discriminator" and "mapping" in value) or (
        key == "title" and isinstance(value, str)
    )
