"""The parts of the Day screen as texts, each in several lengths: nothing here computes."""
