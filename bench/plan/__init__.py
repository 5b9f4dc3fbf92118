"""From what is wanted to what to do: amounts, melts, rounds and their times.

``bench.plan.records`` says what a plan is; ``bench.plan.make`` makes one. Volumes are those of the plastic hot in
the cup, at the temperature of the shot; masses are what the scale says at any temperature.
"""
