"""The README's pictures of the work page and a bench sheet: python -m tests.tools.open_picture."""

import io
import re
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import pypdfium2
from PIL import Image
from selenium import webdriver
from selenium.webdriver.chrome.service import Service

import net3d
from net3d.paper.documents import Imprint, bench_pdf
from tests.page.conftest import DAY, FLAGS

ROOT = Path(__file__).parent.parent.parent
TARGET = ROOT / "outputs" / "open.png"
SHEET = ROOT / "outputs" / "bench-sheet.png"
LONGEST = 120  # s until all is worked out
DENSE = 100 / 72  # dots of the sheet's picture to a point of paper


def picture(folder, address):
    """The page of the sample with its second hoop chosen, all of it worked out, as PNG."""
    options = webdriver.ChromeOptions()
    options.binary_location = shutil.which("chromium")
    for flag in (*FLAGS, f"--user-data-dir={folder}/browser"):
        options.add_argument(flag)
    driver = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
    try:
        size = {"width": 1280, "height": 800, "deviceScaleFactor": 1, "mobile": False}
        driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        driver.get(f"{address}net/backwater-36")
        until = time.monotonic() + LONGEST
        while not driver.execute_script(
            "return document.querySelector('.count') && !document.querySelector('.seeking')"
            " && !document.getElementById('age').textContent"
        ):
            assert time.monotonic() < until, "it was not worked out"
            time.sleep(0.2)
        driver.execute_script("document.getElementById('box-throat.1.deep').focus(); scrollTo(0, 0)")
        time.sleep(1)
        return driver.get_screenshot_as_png()
    finally:
        driver.quit()


def sheet_picture():
    """The bench sheet of the sample's second hoop."""
    design = net3d.design(net3d.read_spec(ROOT / "specs" / "backwater-36.toml"))
    content = bench_pdf(design, replace(Imprint.usual("in"), day=DAY))
    with pypdfium2.PdfDocument(content) as paper:
        page = next(one for one in paper if "\nHoop 2\r" in one.get_textpage().get_text_range())
        page.render(scale=DENSE).to_pil().convert("L").quantize(16).save(SHEET, optimize=True)


def main():
    """Draw the sheet; serve the sample, take the picture, end."""
    sheet_picture()
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(ROOT / "specs" / "backwater-36.toml", folder)
        command = [sys.executable, "-m", "net3d", "open", folder, "--no-browser", "--port", "0"]
        server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        try:
            address = re.search(r"http://\S+/", server.stdout.readline())[0]
            with Image.open(io.BytesIO(picture(folder, address))) as shot:
                few = shot.convert("P", palette=Image.Palette.ADAPTIVE, colors=128)
            few.save(TARGET, optimize=True)
        finally:
            server.send_signal(2)
            server.communicate(timeout=20)


if __name__ == "__main__":
    main()
