"""What to buy, what it costs, in which order to build, how to water and what to do in which month."""
