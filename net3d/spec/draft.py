"""What can be known of a spec that has faults: the parts that are fine, for rules that need only those."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from net3d.spec.form import NetForm
from net3d.spec.keys import Path

Context = dict[str, Any]
Model = TypeVar("Model", bound=BaseModel)


@dataclass(frozen=True)
class Draft:
    """A form, and the paths in it that are not to be trusted."""

    form: NetForm
    faulty: frozenset[Path] = frozenset()

    def fine(self, *path: str | int) -> bool:
        """Whether nothing is wrong at a path, above it or below it."""
        if not self.faulty:
            return True
        if path in self._holds_faults:
            return False
        return self.faulty.isdisjoint([path[:length] for length in range(len(path) + 1)])

    @cached_property
    def _holds_faults(self) -> frozenset[Path]:
        return frozenset(path[:length] for path in self.faulty for length in range(1, len(path)))

    def given(self, *path: str | int) -> bool:
        """Whether a key was typed and is fine."""
        if not self.fine(*path):
            return False
        record: Any = self.form
        for key in path[:-1]:
            record = record[key] if isinstance(key, int) else getattr(record, key, None)
        return record is not None and path[-1] in record.model_fields_set


def salvage(model: type[Model], raw: Mapping[str, object], context: Context) -> Model:
    """A model with those of its fields that can be read; the others are left out.

    Parameters
    ----------
    model : the model to fill
    raw : the table as read from the file
    context : the validation context, with the spec's units

    Examples
    --------
    >>> form = salvage(NetForm, {"title": 3, "units": "in"}, {"units": "in"})
    >>> form.title, form.units
    (None, 'in')
    """
    typed = {name: field for name, field in model.model_fields.items() if name in raw}
    values = {name: _salvage_field(field, raw[name], context) for name, field in typed.items()}
    return model.model_construct(_fields_set=set(typed), **values)


def _salvage_field(field: FieldInfo, raw: object, context: Context) -> object:
    inner, holder = model_in(field.annotation), get_origin(field.annotation)
    if inner is None:
        return _salvage_value(field, raw, context)
    if holder is tuple:
        return (
            tuple(_salvage_table(inner, entry, context) for entry in raw) if isinstance(raw, list) else None
        )
    if holder is dict and isinstance(raw, dict):
        return {key: _salvage_table(inner, entry, context) for key, entry in raw.items()}
    return _salvage_table(inner, raw, context)


def _salvage_table(model: type[Model], raw: object, context: Context) -> Model | None:
    return salvage(model, raw, context) if isinstance(raw, dict) else None


def _salvage_value(field: FieldInfo, raw: object, context: Context) -> object:
    kind: Any = Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation
    try:
        return _adapter(kind).validate_python(raw, context=context)
    except ValidationError:
        return None


@cache
def _adapter(kind: Any) -> TypeAdapter[object]:  # noqa: ANN401 - any annotation
    return TypeAdapter(kind)


def model_in(annotation: object) -> type[BaseModel] | None:
    """The model that an annotation such as Model | None, tuple[Model, ...] or dict[str, Model] holds.

    Examples
    --------
    >>> model_in(tuple[NetForm, ...]) is NetForm, model_in(float | None)
    (True, None)
    """
    if get_origin(annotation) in (Union, types.UnionType, tuple, dict):
        return next(filter(None, map(model_in, get_args(annotation))), None)
    if isinstance(annotation, type) and get_origin(annotation) is None and issubclass(annotation, BaseModel):
        return annotation
    return None
