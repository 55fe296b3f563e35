"""Plain data files with their sources, and the functions that load them once."""
