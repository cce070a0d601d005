"""What a first touch costs where nothing was ever compiled; run as `python -m tests.bench.bench_first_touch`.

A process with an empty store of kernels opens the window, waits until the program has made everything ready and then
touches everything once, on a small case, so that hardly more than what a first touch costs is left. Budget: 100 ms of the
screen thread for each, made ready within a minute.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time

TOUCH_MS, READY_S = 100.0, 60.0


def touched() -> int:
    """Print the costliest touches; returns 1 if a budget is broken."""
    from PySide6.QtWidgets import QApplication

    from app.core.warm import Warmer
    from app.start import show_again
    from tests.support.cases import planned_case
    from tests.support.first_touch import Hand, every_touch, open_window

    app, ready, spans = QApplication([]), [], []
    with tempfile.TemporaryDirectory() as folder:
        window = open_window(folder)
        warmer = Warmer(window.shelf.modules(), window.context.messages, window)
        warmer.loaded.connect(lambda _: show_again(window))
        warmer.done.connect(window.make_all)
        warmer.ended.connect(lambda: ready.append(time.perf_counter()))
        began = time.perf_counter()
        warmer.loaded.connect(lambda part: print(f"{part} ready after {time.perf_counter() - began:.1f} s", flush=True))
        warmer.begin()
        window.context.workspace.open(planned_case())
        hand = Hand(window)
        hand.wait(lambda: bool(ready))
        for name, act in every_touch(hand):
            worked = time.thread_time()
            act()
            app.processEvents()
            spans.append((1e3 * (time.thread_time() - worked), name))
            hand.rest()
        window.close()
    for ms, name in sorted(spans, reverse=True)[:8]:
        print(f"{name:24} {ms:6.0f} ms of {TOUCH_MS:.0f}   {'ok' if ms <= TOUCH_MS else 'OVER'}")
    seconds = ready[0] - began
    held = "ok" if seconds <= READY_S else "OVER"
    print(f"{len(spans)} touches; all ready after {seconds:.0f} s of {READY_S:.0f}   {held}")
    return int(seconds > READY_S or max(spans)[0] > TOUCH_MS)


def main() -> int:
    """Run in a process whose store of kernels is empty."""
    with tempfile.TemporaryDirectory() as empty:
        environment = dict(os.environ, NUMBA_CACHE_DIR=empty, QT_QPA_PLATFORM="offscreen")
        code = "import sys; from tests.bench.bench_first_touch import touched; sys.exit(touched())"
        return subprocess.run([sys.executable, "-c", code], env=environment, check=False).returncode


if __name__ == "__main__":
    raise SystemExit(main())
