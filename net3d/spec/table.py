"""What every table of a spec is.

Modules of tables do without ``from __future__ import annotations``, of which pydantic would have to compile
every annotation again, and tables are built when they are first read: a fiftieth of a check each.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    """A table of a spec: cannot be changed, and has no keys but its own."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
