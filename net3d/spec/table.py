"""What every table of a spec is."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """A table of a spec: cannot be changed, and has no keys but its own."""

    model_config = ConfigDict(frozen=True, extra="forbid")
