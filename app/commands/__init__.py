"""One file per headless subcommand."""
