"""A second, naive model of a piece, bead by bead, that shares no code with the program.

`piece` lays beads one at a time into plain lists, `work` follows a plan, `record` writes down what was laid,
`wording` prints the same plan as a plan file, `strategies` draws random plans, `compare` holds the program's
documents against the record.
"""
