"""The desktop program: shows, asks, forwards. Holds no physics.

Qt hands every larger filled shape out to a pool of threads and waits for them. While the compute threads work, each wait
costs more than the filling, so the screen paints alone; Qt reads this from the environment before it paints first.
"""

import os

os.environ.setdefault("QT_NO_GUI_THREADPOOL", "1")
