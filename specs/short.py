"""Short forms of a spec: a bare word for a record of that kind, a kind that goes without saying."""

from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema


@dataclass(frozen=True, slots=True)
class Short:
    """Lets a bare word stand for ``{kind: word}``, and a missing kind for ``default``."""

    words: bool = True
    default: str | None = None

    def expanded(self, value: object) -> object:
        """The long form of ``value``."""
        if self.words and isinstance(value, str) and value:
            return {"kind": value}
        if self.default is not None and isinstance(value, dict) and "kind" not in value:
            return {"kind": self.default, **value}
        return value

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Expand before the long form is read."""
        return core_schema.no_info_before_validator_function(self.expanded, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Offer beside the long form the bare words that need no other key."""
        long = handler(schema)
        if not self.words:
            return long
        mapping = long.get("discriminator", {}).get("mapping")
        if mapping is None:
            kinds = handler.resolve_ref_schema(long)["properties"]["kind"]
        else:
            refs = {kind: {"$ref": ref} for kind, ref in mapping.items()}
            alone = [kind for kind, ref in refs.items() if _stands_alone(ref, handler)]
            kinds = {"enum": sorted(alone)}
        return {"anyOf": [kinds, long]}


def _stands_alone(ref: dict[str, Any], handler: GetJsonSchemaHandler) -> bool:
    """Tell whether a record needs no key but its kind."""
    return set(handler.resolve_ref_schema(ref).get("required", [])) <= {"kind"}
