"""The command line: reads options, calls the stages, exits honestly."""

from preflint.cli.imports import leave_out_the_current_folder

leave_out_the_current_folder()  # before any other module of the program is imported
