"""The base of every section of a spec: frozen, nothing unknown accepted, complaints worded."""

from collections.abc import Iterator
from typing import Self

from pydantic import (
    BaseModel,
    ConfigDict,
    ModelWrapValidatorHandler,
    ValidationError,
    ValidationInfo,
    model_validator,
)
from pydantic_core import InitErrorDetails

from specs.names import Names, known
from specs.wording import described, fault, keys_of, listed, needed_keys, reworded

Fault = tuple[tuple[str | int, ...], str]
"""The keys from a section down to what is wrong, and what would be right."""


class Record(BaseModel):
    """One section of a spec: attribute names are its keys, lengths are mm, angles degrees.

    A Python keyword carries an underscore: ``in_``, ``from_``, ``with_``.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=False)

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002 - for the sections that ask
        """Yield what is wrong between the keys of this section, each of which can be read."""
        yield from ()

    @model_validator(mode="wrap")
    @classmethod
    def _read(
        cls, data: object, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo
    ) -> Self:
        """Read one section; collect every complaint about it and word each.

        Raises:
            ValidationError: the keys are wrong, alone or together.
            PydanticCustomError: there is no group of keys at all.
        """
        if isinstance(data, cls):
            return data
        if not isinstance(data, dict):
            keys = listed(needed_keys(cls) or keys_of(cls))
            message = f"{described(data)} stands where a group of keys belongs; its keys: {keys}"
            raise fault(message)
        try:
            record = handler(data)
        except ValidationError as error:
            raise reworded(cls, error) from None
        lines = [
            InitErrorDetails(type=fault(message), loc=loc, input=data)
            for loc, message in record.faults(known(info))
        ]
        if lines:
            raise ValidationError.from_exception_data(cls.__name__, lines)
        return record
