"""What lies beside the work, each a sheet in place of the stitching screen for a moment."""
