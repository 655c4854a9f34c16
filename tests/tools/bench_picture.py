"""The README's picture of a phone at the bench: python -m tests.tools.bench_picture."""

import io
import tempfile
from pathlib import Path

from PIL import Image

import net3d
from tests.page.conftest import PHONE, Viewer, browser, page_file
from tests.page.test_bench import Bench

ROOT = Path(__file__).parent.parent.parent
TARGET = ROOT / "outputs" / "bench.png"
SHOWN = (("Hoop 1", 9), ("Knit throat 1", 17), ("Order of work", 0))  # the work, and how much of it is done
ROOM = 24  # pixels between phones


def phones(page):
    """What a phone shows at three moments, side by side."""
    with tempfile.TemporaryDirectory() as profile, browser(profile) as driver:
        viewer = Viewer(driver)
        bench, shots = Bench(viewer, page), []
        for work, done in SHOWN:
            bench.choose(work)
            for _ in range(done):
                bench.press("done")
            shots.append(Image.open(io.BytesIO(viewer.shot())).convert("RGB"))
    wide, tall = PHONE
    row = Image.new("RGB", (len(shots) * (wide + ROOM) - ROOM, tall), "#75838a")
    for place, shot in enumerate(shots):
        row.paste(shot, (place * (wide + ROOM), 0))
    return row


def main():
    """Work the sample out and show it."""
    made = net3d.design(net3d.read_spec(ROOT / "specs" / "backwater-36.toml"))
    with tempfile.TemporaryDirectory() as folder:
        shown = phones(page_file(made, Path(folder, "page.html")))
    few = shown.convert("P", palette=Image.Palette.ADAPTIVE, colors=64)
    few.save(TARGET, optimize=True)


if __name__ == "__main__":
    main()
