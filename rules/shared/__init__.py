"""What several topics need: how a run under load is asked for, tests with props on, successive records."""
