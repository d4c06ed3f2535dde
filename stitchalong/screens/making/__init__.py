"""Making a plan on the full screen: what is chosen at the left, what it comes to at the right."""
