"""The checks stage: what is wrong with a net or worth knowing."""

from net3d.checks.judge import check

__all__ = ["check"]
