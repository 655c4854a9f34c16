"""What a value in a spec may be: lengths, forces, whole numbers, names.

Every type reads what a maker types, says what is wrong with it, and describes itself in the JSON Schema.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from net3d.spec.wording import is_control, listed, nearest, shown
from net3d.units import KINDS, Tape, UnitError, read_quantity

MAX_TITLE = 120
_PERCENT = re.compile(r"^\s*([0-9]{1,4}(?:\.[0-9]{1,4})?)\s*%\s*$")
LEAST_AROUND = 3  # meshes: two make no tube


def refusal(given: object, why: str) -> PydanticCustomError:
    """An error that says what was given and why it will not do.

    Examples
    --------
    >>> refusal(True, "is not a length").message()
    'true is not a length'
    """
    return PydanticCustomError("net3d", "{text}", {"text": f"{shown(given)} {why}"})


class Reader(ABC):
    """How one kind of value is read; stands beside the type in an ``Annotated``."""

    @abstractmethod
    def read(self, given: object, units: str | None) -> object:
        """The value in SI; raises a refusal. Units are None when the spec's own cannot be read."""

    @abstractmethod
    def json_schema(self) -> dict[str, Any]:
        """What is accepted, as JSON Schema."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Hand the reading over to ``read``."""
        return core_schema.with_info_plain_validator_function(
            lambda given, info: self.read(given, info.context["units"] if info.context else "m")
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Hand the description over to ``json_schema``."""
        return self.json_schema()


@dataclass(frozen=True)
class Quantity(Reader):
    """A quantity with a unit: a bare number in the spec's units, or text. Least and most in SI, or none."""

    kind: str
    least: float
    most: float
    or_none: bool = False

    def read(self, given: object, units: str | None) -> float:
        """The quantity [SI]."""
        try:
            value = read_quantity(given, self.kind, units or "m")
        except UnitError as error:
            raise refusal(given, str(error)) from None
        if self._fits(value, units):
            return value
        raise refusal(given, f"is not allowed here: {self._allowed(value, units or 'm')}")

    def _fits(self, value: float, units: str | None) -> bool:
        if self.or_none and value == 0:
            return True
        # Without known units only the sign of a bare number can be judged.
        return self.least <= value <= self.most if units else value > 0

    def _allowed(self, value: float, units: str) -> str:
        if value <= 0 < self.least and not self.or_none:
            return "it must be more than zero"
        if value < self.least:
            none = "0, or " if self.or_none else ""
            return f"it must be {none}{Tape(units).bound(self.least, self.kind)} or more"
        return f"it must be {Tape(units).bound(self.most, self.kind)} or less"

    def json_schema(self) -> dict[str, Any]:
        """A number, or text with a number in it."""
        text = {"type": "string", "pattern": "[0-9½¼¾]", "examples": KINDS[self.kind].example.split(" or ")}
        least = "exclusiveMinimum" if self.least and not self.or_none else "minimum"
        return {"anyOf": [{"type": "number", least: 0}, text]}


@dataclass(frozen=True)
class WordOr(Reader):
    """A quantity, or a word such as "free", read as None."""

    word: str
    reader: Quantity

    def read(self, given: object, units: str | None) -> float | None:
        """The quantity [SI], or None."""
        return None if given == self.word else self.reader.read(given, units)

    def json_schema(self) -> dict[str, Any]:
        """The quantity, or the word."""
        return {"anyOf": [*self.reader.json_schema()["anyOf"], {"const": self.word}]}


@dataclass(frozen=True)
class Range(Reader):
    """A quantity, or a list of the smallest and the largest, read as both."""

    reader: Quantity

    def read(self, given: object, units: str | None) -> tuple[float, float]:
        """Smallest and largest [SI]."""
        if not isinstance(given, list):
            value = self.reader.read(given, units)
            return value, value
        if len(given) != 2:
            raise refusal(given, "is not allowed here: write one size, or the smallest and the largest")
        least, most = (self.reader.read(part, units) for part in given)
        if least > most:
            raise refusal(given, "is not allowed here: write the smallest first, then the largest")
        return least, most

    def json_schema(self) -> dict[str, Any]:
        """The quantity, or two of them."""
        one = self.reader.json_schema()
        pair = {"type": "array", "items": one, "minItems": 2, "maxItems": 2}
        return {"anyOf": [*one["anyOf"], pair]}


@dataclass(frozen=True)
class Pair(Reader):
    """Two quantities that belong together, as a list of two or as text with an x between them."""

    reader: Quantity

    def read(self, given: object, units: str | None) -> tuple[float, float]:
        """Both [SI]."""
        both = [part.strip() for part in given.split("x")] if isinstance(given, str) else given
        if not isinstance(both, list) or len(both) != 2 or "" in both:
            raise refusal(given, 'is not allowed here: write two sizes, such as "12 x 6 1/2"')
        one, other = (self.reader.read(part, units) for part in both)
        return one, other

    def json_schema(self) -> dict[str, Any]:
        """Two quantities in a list, or text."""
        pair = {"type": "array", "items": self.reader.json_schema(), "minItems": 2, "maxItems": 2}
        return {"anyOf": [pair, {"type": "string", "pattern": "x", "examples": ["12 x 6 1/2"]}]}


@dataclass(frozen=True)
class Named(Reader):
    """A number, or a name for one."""

    reader: Number
    names: tuple[tuple[str, float], ...]

    def read(self, given: object, units: str | None) -> float:
        """The number [-]."""
        if isinstance(given, str):
            if given not in dict(self.names):
                words = listed(name for name, _ in self.names)
                raise refusal(given, f"is not known here: write {words}, or {self.reader.what}")
            return dict(self.names)[given]
        return self.reader.read(given, units)

    def json_schema(self) -> dict[str, Any]:
        """The number, or the names."""
        return {"anyOf": [self.reader.json_schema(), {"enum": [name for name, _ in self.names]}]}


@dataclass(frozen=True)
class Number(Reader):
    """A plain number in steps: wholes (1), halves (0.5), or any (0)."""

    least: float
    most: float
    step: float = 0
    what: str = "a number"

    def read(self, given: object, units: str | None) -> float:
        """The number as typed [-]."""
        if isinstance(given, bool) or not isinstance(given, int | float):
            raise refusal(given, self._allowed())
        if not self.least <= given <= self.most or (self.step and given % self.step):
            raise refusal(given, self._allowed())
        return int(given) if self.step == 1 else float(given)

    def _allowed(self) -> str:
        return f"is not allowed here: it must be {self.what} from {self.least:,.10g} to {self.most:,.10g}"

    def json_schema(self) -> dict[str, Any]:
        """A number with its bounds and steps."""
        schema: dict[str, Any] = {"minimum": self.least, "maximum": self.most}
        schema["type"] = "integer" if self.step == 1 else "number"
        return schema | ({"multipleOf": self.step} if self.step else {})


@dataclass(frozen=True)
class PartOf(Reader):
    """A part of a whole: a number such as 0.2, or a percentage as text."""

    number: Number

    def read(self, given: object, units: str | None) -> float:
        """The part [-]."""
        percent = _PERCENT.fullmatch(given) if isinstance(given, str) else None
        if percent:
            return float(self.number.read(float(percent[1]) / 100, units))
        if isinstance(given, int | float) and self.number.most < given <= 100:
            hint = f'{given:g} % is {given / 100:g}, or write "{given:g} %"'
            raise refusal(given, f"is not allowed here: {hint}")
        return self.number.read(given, units)

    def json_schema(self) -> dict[str, Any]:
        """The number, or text with a percent sign."""
        return {"anyOf": [self.number.json_schema(), {"type": "string", "pattern": _PERCENT.pattern}]}


@dataclass(frozen=True)
class OneOf(Reader):
    """One of a few whole numbers."""

    numbers: tuple[int, ...]

    def read(self, given: object, units: str | None) -> int:
        """The number as typed [-]."""
        if isinstance(given, bool) or not isinstance(given, int) or given not in self.numbers:
            raise refusal(given, f"is not allowed here: it must be {self._listed()}")
        return given

    def json_schema(self) -> dict[str, Any]:
        """The numbers."""
        return {"enum": list(self.numbers)}

    def _listed(self) -> str:
        *others, last = map(str, self.numbers)
        return f"{', '.join(others)} or {last}"


@dataclass(frozen=True)
class YesNo(Reader):
    """True or false."""

    def read(self, given: object, units: str | None) -> bool:
        """The answer."""
        if not isinstance(given, bool):
            raise refusal(given, "is not allowed here: it must be true or false")
        return given

    def json_schema(self) -> dict[str, Any]:
        """A boolean."""
        return {"type": "boolean"}


@dataclass(frozen=True)
class Text(Reader):
    """A few words that can be printed on one line; a bare number too where that is how it is called."""

    example: str
    numbers: bool = False
    most: int = MAX_TITLE

    def read(self, given: object, units: str | None) -> str:
        """The text without blanks around it."""
        if self.numbers and isinstance(given, int) and not isinstance(given, bool) and 0 < given < 10**6:
            return str(given)
        if not isinstance(given, str) or not given.strip():
            raise refusal(given, f'will not do here: write it in quotes, such as "{self.example}"')
        if len(given) > self.most:
            raise refusal(given, f"is too long: at most {self.most} letters are allowed")
        if any(is_control(letter) for letter in given):
            raise refusal(given, "has letters that cannot be printed: write it on one line, in plain letters")
        return given.strip()

    def json_schema(self) -> dict[str, Any]:
        """A string, with an integer where a number is how it is called."""
        text = {"type": "string", "minLength": 1, "maxLength": self.most, "examples": [self.example]}
        return {"anyOf": [text, {"type": "integer", "minimum": 1}]} if self.numbers else text


def _none() -> dict[str, str]:
    return {}


@dataclass(frozen=True)
class Choice(Reader):
    """One of the known names, or another spelling of one."""

    names: Callable[[], tuple[str, ...]]
    others: Callable[[], dict[str, str]] = _none

    def read(self, given: object, units: str | None) -> str:
        """The name as the tables have it."""
        spellings = {name.lower(): name for name in self.names()}
        spellings |= {other.lower(): name for other, name in self.others().items()}
        plain = given.strip().lower() if isinstance(given, str) else ""
        if plain not in spellings:
            hint = nearest(plain, [*self.names(), *self.others()])
            raise refusal(given, f"is not known here: write {listed(self.names())}{hint}")
        return spellings[plain]

    def json_schema(self) -> dict[str, Any]:
        """The names and their other spellings."""
        return {"enum": [*self.names(), *self.others()]}


Length = Annotated[float, Quantity("length", 1e-6, 1000.0)]
TapeStep = Annotated[float, Quantity("length", 1e-5, 0.05)]
Force = Annotated[float, Quantity("force", 1e-3, 1e6)]
Pull = Annotated[float, Quantity("force", 1e-3, 1e6, or_none=True)]
Speed = Annotated[float, Quantity("speed", 0.01, 5.0)]
PlanAngle = Annotated[float, Number(0, 90, 0, "degrees in plan")]
Blocked = Annotated[float, PartOf(Number(0, 0.9, 0, "a part of all meshes"))]
Caught = Annotated[float, PartOf(Number(0, 0.5, 0, "a part of the netting's outline"))]
LengthPerWeight = Annotated[float, Quantity("length per weight", 1e-2, 1e7)]
Spacing = Annotated[float | None, WordOr("free", Quantity("length", 1e-6, 1000.0))]
FitLength = Annotated[float | None, WordOr("fit", Quantity("length", 1e-6, 1000.0))]
Lengths = Annotated[tuple[float, float] | None, Range(Quantity("length", 1e-6, 1000.0))]
Measured = Annotated[tuple[float, float], Pair(Quantity("length", 1e-6, 1000.0))]
Depth = Annotated[float, Number(0.5, 1000, 0.5, "meshes in wholes or halves, such as 5 or 5.5,")]
Around = Annotated[int, Number(LEAST_AROUND, 100000, 1, "a whole number of meshes")]
SideMeshes = Annotated[int, Number(1, 100000, 1, "a whole number of meshes")]
Repeat = Annotated[int, Number(1, 1000, 1, "a whole number of hoops")]
RopeSize = Annotated[float, Quantity("length", 1e-4, 0.0508)]  # as thick as the table of strengths goes
Gap = Annotated[float, Quantity("length", 0.0, 10.0)]
Turn = Annotated[int, Number(-10000, 10000, 1, "a whole number of meshes")]
HoopNumber = Annotated[int, Number(1, 1000, 1, "the number of a hoop, counted from 1 at the mouth,")]
Points = Annotated[int, Number(1, 1000, 1, "a whole number of ties")]
Change = Annotated[int, Number(-10000, 10000, 1, "a whole number of meshes")]
Part = Annotated[float, Number(0, 1)]
Share = Annotated[float, Number(0.01, 0.2)]  # between hanging loose and taking the pull from the body
Taper = Annotated[float, Named(Number(0, 1), (("even", 0.0), ("middle", 0.5), ("late", 1.0)))]
PanelCount = Annotated[int, OneOf((1, 2, 4))]
Hitches = Annotated[int, Number(1, 9, 1, "a whole number of hitches")]
TakeUp = Annotated[int, Number(0, 5, 1, "a whole number of meshes")]
Off = Annotated[float, PartOf(Number(0, 1, 0, "a part of the whole"))]
OffStretch = Annotated[float, PartOf(Number(0, 2, 0, "a part of the stretch"))]
OffLength = Annotated[float, Quantity("length", 0.0, 0.1)]
Mass = Annotated[float, Quantity("mass", 1e-4, 1e5)]
Rate = Annotated[float, Number(0.01, 1e6, 0, "a number")]
Money = Annotated[float, Number(0, 1e7)]
Markup = Annotated[float, PartOf(Number(0, 2, 0, "a part of the cost"))]
Currency = Annotated[str, Text("$", most=12)]
HungOn = Annotated[float, Number(0.1, 1, 0, "a part of one, such as 0.8,")]
Legs = Annotated[int, Number(2, 24, 1, "a whole number of legs")]
Tex = Annotated[float, Number(0.1, 1e6, 0, "a number of grams a kilometre")]
Ratio = Annotated[float, Number(0, 1e6)]
GirthRatio = Annotated[float, Number(0.05, 5, 0, "a number such as 0.6,")]
Answer = Annotated[bool, YesNo()]
Title = Annotated[str, Text("River net 36")]
Address = Annotated[str, Text("12 River Road, 555 0100", most=160)]
Terms = Annotated[str, Text("Ready four weeks after the deposit.", most=400)]
QuoteNumber = Annotated[str, Text("2026-14", numbers=True, most=24)]
Days = Annotated[int, Number(1, 1000, 1, "a whole number of days")]
Pieces = Annotated[int, Number(1, 10000, 1, "a whole number of nets")]
Deposit = Annotated[float, PartOf(Number(0, 1, 0, "a part of the sum"))]
TwineName = Annotated[str, Text("#15", numbers=True)]
