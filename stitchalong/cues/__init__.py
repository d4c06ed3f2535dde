"""What is said and sounded, and when: words first."""
