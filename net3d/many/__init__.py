"""Many nets at once: grids and draws of a spec, solved by whatever executor there is, one row a net."""

from net3d.many.engine import Engine, cluster, processes
from net3d.many.sweep import Sweep, sweep, sweep_of
from net3d.many.ways import Draw

__all__ = ["Draw", "Engine", "Sweep", "cluster", "processes", "sweep", "sweep_of"]
