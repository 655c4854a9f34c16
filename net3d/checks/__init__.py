"""The checks stage: what is wrong with a net or worth knowing."""

from net3d.checks.every_check import check
from net3d.checks.holes import check_holes
from net3d.checks.river import check_current
from net3d.checks.told import told_once

__all__ = ["check", "check_current", "check_holes", "told_once"]
