"""The equilibrium of one net by net3d, by other ways to the same cone program, and by other methods.

Every way starts at the tied net and ends with positions and tensions. How good these are is worked out here,
for all alike: the largest force left over, as a share of the pull, and the largest overstretch, in bars.
"""

from __future__ import annotations

from time import perf_counter

import numpy as np
from scipy import sparse

from net3d.statics import settle
from net3d.statics.loads import total_loads
from net3d.statics.motion import free_motion
from tests.tools.benchmarks.nets import body

CLARABEL = {"tol_gap_abs": 1e-13, "tol_gap_rel": 1e-13, "tol_feas": 1e-10}  # what net3d asks for
ECOS = {"abstol": 1e-13, "reltol": 1e-13, "feastol": 1e-10}
SCS = {"eps_abs": 1e-9, "eps_rel": 1e-9, "max_iters": 100_000}
RELAXED, MOST_STEPS = 1e-7, 200_000  # dynamic relaxation: forces left over as a share of the pull, steps


def second(way: str, kind: str, size: str) -> dict[str, float]:
    """A ``way`` of this file, after a first go at the smallest net that loads all it needs."""
    run = globals()[way]
    run(kind, "1")
    return run(kind, size)


def net3d(kind: str, size: str) -> dict[str, float]:
    """net3d, whatever repeats solved once."""
    net = body(kind, size)
    start = perf_counter()
    shape = settle(net.netting, net.plan)
    seconds = perf_counter() - start
    last = int(np.argmax(net.netting.knot_rows))  # it rides on the hoop that the anchor holds
    positions = shape.knot_positions - [shape.knot_positions[last, 0], 0.0, 0.0]
    return {"seconds": seconds, **_misfit(net.netting, positions, shape.bar_tensions)}


def cvxpy_clarabel(kind: str, size: str) -> dict[str, float]:
    """The program as a user of cvxpy writes it, for the solver that net3d uses."""
    return _by_cvxpy(kind, size, "CLARABEL", CLARABEL)


def cvxpy_ecos(kind: str, size: str) -> dict[str, float]:
    """The same for another interior-point solver."""
    return _by_cvxpy(kind, size, "ECOS", ECOS)


def cvxpy_scs(kind: str, size: str) -> dict[str, float]:
    """The same for a solver of first order."""
    return _by_cvxpy(kind, size, "SCS", SCS)


def scipy_minimize(kind: str, size: str) -> dict[str, float]:
    """L-BFGS-B, scipy's minimiser for many variables, on the energy of the stretched bars: no cones."""
    from scipy.optimize import minimize

    net = body(kind, size)
    netting, motion = net.netting, free_motion(net.netting)
    loads = total_loads(netting).ravel()
    start = perf_counter()
    springs = netting.bar_stiffnesses / netting.bar_lengths

    def energy(coordinates):
        positions = motion.positions(coordinates)
        spans, distances = _spans(netting, positions)
        stretches = np.maximum(distances - netting.bar_lengths, 0.0)
        forces = _forces(netting, loads.reshape(-1, 3), spans, springs * stretches / distances)
        value = (springs * stretches**2).sum() / 2 - loads @ positions.ravel()
        return value / netting.pull, -(motion.matrix.T @ forces.ravel()) / netting.pull

    stop = {"maxiter": MOST_STEPS, "maxfun": MOST_STEPS, "ftol": 0.0, "gtol": 1e-9, "maxcor": 50}
    found = minimize(energy, _guess(net, motion), jac=True, method="L-BFGS-B", options=stop)
    seconds = perf_counter() - start
    positions = motion.positions(found.x)
    stretches = np.maximum(_spans(netting, positions)[1] - netting.bar_lengths, 0.0)
    return {"seconds": seconds, **_misfit(netting, positions, springs * stretches)}


def compas_dr(kind: str, size: str) -> dict[str, float]:
    """Dynamic relaxation with the hoops held where net3d finds them: it knows none that slide.

    Its bars push as well as pull, so it can only be given a net without slack.
    """
    from compas_dr.numdata import InputData
    from compas_dr.solvers import dr_numpy

    net = body(kind, size)
    netting, shape = net.netting, net.settled()
    held = np.flatnonzero(netting.knot_carriers >= 0)
    hoops = np.interp(netting.knot_rows, netting.knot_rows[held], shape.knot_positions[held, 0])
    places = np.column_stack([hoops, _around(net)])
    radii = np.sqrt(1 / 3.14159)  # the library's own pi: a cross-section of 1, so that its modulus is EA
    start = perf_counter()
    given = InputData(
        vertices=places,
        edges=netting.bars,
        fixed=held.tolist(),
        loads=total_loads(netting),
        qpre=np.zeros(len(netting.bars)),
        linit=netting.bar_lengths,
        E=netting.bar_stiffnesses,
        radius=np.full(len(netting.bars), radii),
    )
    with np.errstate(all="ignore"):
        found = dr_numpy(given, kmax=MOST_STEPS, tol1=RELAXED * netting.pull, tol2=0.0)
    seconds = perf_counter() - start
    return {"seconds": seconds, **_misfit(netting, found.xyz, np.ravel(found.forces), hoops_held=True)}


def _by_cvxpy(kind, size, solver, options):
    import cvxpy

    netting = body(kind, size).netting
    motion, loads = free_motion(netting), total_loads(netting).ravel()
    start = perf_counter()
    scale, pull, count = netting.bar_lengths.mean(), netting.pull, len(netting.bars)
    coordinates, stretches = cvxpy.Variable(motion.matrix.shape[1]), cvxpy.Variable(count)
    differences = sparse.kron(_differences(netting), sparse.eye(3), format="csr")
    entries = motion.matrix.values, (motion.matrix.rows, motion.matrix.columns)
    moves = sparse.csr_matrix(entries, shape=motion.matrix.shape)
    spans = (differences @ moves) @ coordinates + differences @ motion.constant / scale
    reaches = netting.bar_lengths / scale + stretches
    cones = cvxpy.SOC(reaches, cvxpy.reshape(spans, (count, 3), order="C"), axis=1)
    springs = netting.bar_stiffnesses / netting.bar_lengths * scale / pull
    energy = cvxpy.sum(cvxpy.multiply(springs / 2, cvxpy.square(stretches)))
    work = (motion.matrix.T @ loads / pull) @ coordinates
    cvxpy.Problem(cvxpy.Minimize(energy - work), [cones]).solve(solver=solver, **options)
    positions, tensions = motion.positions(coordinates.value * scale), np.ravel(cones.dual_value[0]) * pull
    seconds = perf_counter() - start
    return {"seconds": seconds, **_misfit(netting, positions, tensions)}


def _guess(net, motion):
    """Coordinates of the tube with its bars straight, as it would stand without any waist."""
    rows = net.netting.knot_rows
    along = (rows - rows.max()) * net.plan.bar * net.plan.hoops[0].depth_ratio
    places = np.column_stack([along, _around(net)]).ravel()
    shares = motion.matrix.T @ np.ones(motion.matrix.shape[0])
    return motion.matrix.T @ (places - motion.constant) / shares


def _around(net):
    angles, radius = net.netting.knot_angles, net.plan.hoops[0].knot_circle_diameter / 2
    return radius * np.column_stack([-np.sin(angles), np.cos(angles)])


def _differences(netting):
    count = len(netting.bars)
    rows, ends = np.tile(np.arange(count), 2), netting.bars.T.ravel()
    signs = np.repeat([-1.0, 1.0], count)
    return sparse.csr_matrix((signs, (rows, ends)), shape=(count, len(netting.knot_rows)))


def _spans(netting, positions):
    spans = np.subtract(*positions[netting.bars.T][::-1])
    return spans, np.linalg.norm(spans, axis=1)


def _forces(netting, loads, spans, densities):
    """Loads and pulls together on every knot (n, 3), from each bar's tension over its length."""
    forces, pulls = loads.copy(), spans * densities[:, None]
    for axis in range(3):
        forces[:, axis] += np.bincount(netting.bars[:, 0], pulls[:, axis], len(forces))
        forces[:, axis] -= np.bincount(netting.bars[:, 1], pulls[:, axis], len(forces))
    return forces


def _misfit(netting, positions, tensions, hoops_held=False):
    motion, loads = free_motion(netting), total_loads(netting)
    spans, distances = _spans(netting, positions)
    left = motion.matrix.T @ _forces(netting, loads, spans, tensions / distances).ravel()
    free = left[motion.carrier_coordinate_count :] if hoops_held else left
    stretched = netting.bar_lengths * (1 + tensions / netting.bar_stiffnesses)
    overstretch = (distances - stretched).max() / netting.bar_lengths.mean()
    return {"misfit": max(np.abs(free).max() / netting.pull, overstretch)}
