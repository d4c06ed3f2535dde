"""What thread and beads do: edges, spaces, stitches. Pure; knows no plan and no file."""
