"""The commands of the command line, a module for each kind; imported only when one of them is run."""
