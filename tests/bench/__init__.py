"""Speed, measured: see DEVELOPERS.md."""

import engine  # noqa: F401  first, for it settles how many threads numpy takes
