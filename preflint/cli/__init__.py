"""The command line: reads options, calls the stages, exits honestly."""
