"""Spec files made by a fuzzer that watches which branches they reach. Needs ``pip install atheris``.

``python tests/tools/fuzz/guided.py -max_total_time=600`` starts from the specs of ``specs/`` and of
``seeds/`` here, and stops at the first file that is neither read nor refused. More options come with
``-help=1``.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))

HANG = 10  # s
LONGEST = 8000  # bytes


def main(arguments):
    """Fuzz until the time is over or a file is trouble."""
    import atheris  # noqa: PLC0415 - not among what the tests need: it comes for few versions of Python

    with atheris.instrument_imports(include=["net3d.spec", "net3d.units", "net3d.errors", "tomllib"]):
        from net3d.errors import SpecError  # noqa: PLC0415
        from net3d.spec import read_spec  # noqa: PLC0415

    def read_or_refuse(content):
        path.write_bytes(content)
        try:
            read_spec(path)
        except SpecError:
            return

    with tempfile.TemporaryDirectory() as folder:
        path, corpus = Path(folder, "net.toml"), Path(folder, "corpus")
        corpus.mkdir()
        here = Path(__file__).resolve().parent
        for seed in (*here.glob("seeds/*.toml"), *here.parents[1].glob("specs/*.toml")):
            (corpus / seed.name).write_bytes(seed.read_bytes())
        options = [f"-timeout={HANG}", f"-max_len={LONGEST}", str(corpus)]
        atheris.Setup([*arguments, *options], read_or_refuse)
        atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv)
