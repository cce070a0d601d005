"""The command ``halfshade``: a subcommand runs headless, none opens the window."""


def main() -> int:
    """Entry point."""
    raise SystemExit("not built yet")
