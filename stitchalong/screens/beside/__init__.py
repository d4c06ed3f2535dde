"""What lies beside the work, each a sheet in place of the stitching screen for a moment."""

SHEETS = frozenset(("find", "recount", "tray", "thread", "note", "take_out", "chart"))
"""the commands that open one, by id"""
