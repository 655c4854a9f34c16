"""What can be known of a spec that has faults: the parts that are fine, for rules that need only those."""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from net3d.spec.form import NetForm
from net3d.spec.locate import Path

Context = dict[str, Any]


@dataclass(frozen=True)
class Draft:
    """A form, and the paths in it that are not to be trusted."""

    form: NetForm
    faulty: frozenset[Path] = frozenset()

    def fine(self, *path: str | int) -> bool:
        """Whether nothing is wrong at a path, above it or below it."""
        return not any(path[: len(bad)] == bad[: len(path)] for bad in self.faulty)

    def given(self, *path: str | int) -> bool:
        """Whether a key was typed and is fine."""
        record: Any = self.form
        for key in path[:-1]:
            if not self.fine(*path):
                return False
            record = record[key] if isinstance(key, int) else getattr(record, key, None)
        return self.fine(*path) and record is not None and path[-1] in record.model_fields_set


def salvage(model: type[BaseModel], raw: Mapping[str, Any], context: Context) -> Any:
    """A model with those of its fields that can be read; the others are left out.

    Parameters
    ----------
    model : the model to fill
    raw : the table as read from the file
    context : the validation context, with the spec's units
    """
    values = {}
    for name, field in model.model_fields.items():
        if name in raw:
            values[name] = _salvage_field(field, raw[name], context)
    return model.model_construct(_fields_set=set(values) & set(raw), **values)


def _salvage_field(field: FieldInfo, raw: object, context: Context) -> Any:
    annotation = field.annotation
    inner, holder = model_in(annotation), get_origin(annotation)
    if inner and holder is tuple and isinstance(raw, list):
        return tuple(_salvage_table(inner, entry, context) for entry in raw)
    if inner and holder is dict and isinstance(raw, dict):
        return {key: _salvage_table(inner, entry, context) for key, entry in raw.items()}
    if inner:
        return _salvage_table(inner, raw, context) if holder not in (tuple, dict) else None
    try:
        kind: Any = Annotated[(annotation, *field.metadata)] if field.metadata else annotation  # type: ignore[valid-type]
        return TypeAdapter(kind).validate_python(raw, context=context)
    except ValidationError:
        return None


def _salvage_table(model: type[BaseModel], raw: object, context: Context) -> Any:
    return salvage(model, raw, context) if isinstance(raw, dict) else None


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that an annotation such as Model | None, tuple[Model, ...] or dict[str, Model] holds."""
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        return annotation if issubclass(annotation, BaseModel) else None
    if get_origin(annotation) in (Union, types.UnionType, tuple, dict):
        return next(filter(None, map(model_in, get_args(annotation))), None)
    return None
