"""Physics of the bench: plain numbers in, plain numbers out.

Nothing here knows a record of the model layer, a file or a clock. One subject a module:

    substance      conductivity, density and heat capacity of a material
    conduction     transient conduction in layers
    cooling        how long a shot stays in its mould
    feeding        shrinkage, top-off and dents
    cup            how a cup of hot plastic cools
    melting        how long it takes to heat, in bursts
    mould          how the mould warms from shot to shot
    filling        the skin that grows while the plastic flows
    bonding        whether a core welds to its shell
    heat_spent     what heat has used up of a cup of plastic
    touch          when a bait can be handled
    air            how long a room takes to clear
    fitting        what readings say about a cup, a heater and a mould
    shared_slope   the least squares behind every fit, and how far to believe it
    set_scale      how much longer or shorter a mould needs than its set time
    misreading     what a temperature that cannot be was meant to be
"""
