"""The checks stage: what is wrong with a net or worth knowing."""

from net3d.checks.every_check import check
from net3d.checks.river import check_current

__all__ = ["check", "check_current"]
