"""The checks stage: what is wrong with a net or worth knowing.

``every_check.check`` and ``river.check_current`` judge a net that was solved, and load the solver; what is in
doubt is told by ``doubts`` without it.
"""

from net3d.checks.told import told_once

__all__ = ["told_once"]
