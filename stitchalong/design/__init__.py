"""Making a plan by answering questions: what is wanted, and the plan's text. Knows no screen and no terminal."""
