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
        """Offer the bare words beside the long form."""
        long = handler(schema)
        kinds = sorted(long.get("discriminator", {}).get("mapping", {}))
        return {"anyOf": [{"enum": kinds}, long]} if self.words and kinds else long
