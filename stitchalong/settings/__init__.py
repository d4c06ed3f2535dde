"""What a stitcher can set, and where files lie."""
