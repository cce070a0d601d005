"""Which panels and tools each station of the job shows."""
