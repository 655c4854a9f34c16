"""From what a maker has to a net: choices counted out, the best solved, those that differ proposed."""

from net3d.propose.search import Proposal, Proposals, propose

__all__ = ["Proposal", "Proposals", "propose"]
