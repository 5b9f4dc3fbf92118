"""How long all views and the load window of one recipe take: ours, warm and cold, and by colour-science.

Not a test and not collected: run it with ``python -m tests.speed.colour_views``. The goal is under 40 ms warm. The
rival does the same layers in numpy arrays and its colorimetry in colour-science, in a fresh process each time, as
a command would; it is left out where colour-science is not installed (it is no dependency of the project). Of a
cold run the start of Python and of the library that every record needs is told apart: it is no work of ours. All
are run in turn, compiled beforehand. The whole verb ``look`` also reads every profile and fits the films.
"""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from statistics import median

from tests.speed.one_recipe import recipe_once

GOAL_MS = 40.0
RUNS = 30
COLD_RUNS = 7

FLOOR = "import dataclasses, enum, typing"

VERB = """
from bench.__main__ import main
main(["--home", "nowhere", "look", "ember-under-peat", "--mould", "ribbon-leech-4", "--json"])
"""

OURS = """
from tests.speed.one_recipe import recipe_once
recipe_once()
"""

RIVAL = """
import warnings
warnings.filterwarnings("ignore")
import numpy as np
import colour
from tests.colour import media
from bench.colour.observer import WEIGHTS_X, WEIGHTS_Y, WEIGHTS_Z

W = np.array([WEIGHTS_X, WEIGHTS_Y, WEIGHTS_Z]).T

def medium(doses):
    k, s = np.array(media.BASE.k_per_mm), np.array(media.BASE.s_per_mm)
    for strength, load in doses:
        k = k + load * np.array(strength.k_per_mm_pct)
        s = s + load * np.array(strength.s_per_mm_pct)
    return k, s

def over(medium, d, backing):
    k, s = medium
    a = (k + s) / s
    b = np.sqrt(a * a - 1)
    c = b / np.tanh(b * s * d)
    return (1 - backing * (a - c)) / (a - backing + c)

def lab(r):
    seen = 0.96 * 0.4 * r / (1 - 0.6 * r)
    return colour.XYZ_to_Lab(seen @ W, [0.3127, 0.3290])

def de(one, other):
    return float(colour.delta_E(one, other, method="CIE 2000"))

grey, base = np.full(36, 0.5), medium([])
core = medium([(media.BLUE, 0.5), (media.WHITE, 0.1)])

def both(f):
    shell = medium([(media.OLIVE_DYE, 0.2 * f), (media.PEARL, 0.1 * f)])
    seen = lab(over(shell, 3.0, over(core, 3.5, over(shell, 3.0, grey))))
    bare = lab(over(base, 3.0, over(core, 3.5, over(base, 3.0, grey))))
    alone = lab(over(shell, 9.5, grey))
    return de(bare, seen), de(alone, seen)

shell = medium([(media.OLIVE_DYE, 0.2), (media.PEARL, 0.1)])
views = [lab(over(m, d, grey)) for m, d in ((shell, 60.0), (shell, 9.5), (shell, 3.0), (core, 3.0), (core, 60.0))]
both(1.0)
fine = [f for f in 2.0 ** np.arange(-8, 8.01, 0.5) if min(both(f)) >= 5.0]
for good, bad in ((fine[0], fine[0] / 2**0.5), (fine[-1], fine[-1] * 2**0.5)):
    for _ in range(12):
        middle = (good * bad) ** 0.5
        good, bad = (middle, bad) if min(both(middle)) >= 5.0 else (good, middle)
"""


def warm_ms() -> float:
    """Median of many runs in this process, ms."""
    recipe_once()
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        recipe_once()
        times.append(time.perf_counter() - start)
    return 1e3 * median(times)


def cold_ms(codes: Mapping[str, str]) -> dict[str, float]:
    """Median of some runs of each, in turn, every one in a fresh process, start of Python included, ms."""
    times: dict[str, list[float]] = {name: [] for name in codes}
    with tempfile.TemporaryDirectory() as compiled:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        for run in range(COLD_RUNS + 1):
            for name, code in codes.items():
                start = time.perf_counter()
                subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, env=environment)
                if run > 0:
                    times[name].append(time.perf_counter() - start)
    return {name: 1e3 * median(each) for name, each in times.items()}


def report(warm: float, cold: Mapping[str, float]) -> Sequence[str]:
    """The times and how they compare, a line each."""
    lines = [
        f"ours, warm         {warm:8.1f} ms   (goal {GOAL_MS:g} ms)",
        f"python and records {cold['floor']:8.1f} ms",
        f"ours, cold         {cold['ours']:8.1f} ms",
        f"the verb, cold     {cold['verb']:8.1f} ms",
    ]
    rival = cold.get("rival")
    if rival is None:
        return [*lines, "colour-science is not installed: nothing to compare with"]
    beyond = (rival - cold["floor"]) / (cold["ours"] - cold["floor"])
    return [
        *lines,
        f"the rival, cold    {rival:8.1f} ms",
        f"the rival costs {rival / cold['ours']:.1f} x ours cold, {beyond:.0f} x beyond the start of Python, "
        f"{rival / warm:.0f} x ours warm, {rival / cold['verb']:.1f} x the verb",
    ]


def main() -> int:
    """Print the times and how they compare; 1 when the goal is missed."""
    codes = {"floor": FLOOR, "ours": OURS, "verb": VERB}
    if importlib.util.find_spec("colour") is not None:
        codes["rival"] = RIVAL
    warm = warm_ms()
    sys.stdout.write("\n".join(report(warm, cold_ms(codes))) + "\n")
    return 0 if warm < GOAL_MS else 1


if __name__ == "__main__":
    sys.exit(main())
