"""Colour of the bench: plain numbers in, plain numbers out; a spectrum is a tuple, one number a band.

Nothing here knows a record of the model layer, a file or a clock. One subject a module, each resting on those
above:

    bands          the wavelength bands of every spectrum
    observer       from a reflectance to tristimulus values under daylight
    lab            L*a*b* and hex
    difference     how different two colours look
    recover        from a colour back to a reflectance
    layers         reflectance and transmittance of layers and stacks
    saunderson     the surface between the plastic and the eye
    mix            absorption and scattering of what is in the cup
    swatch         what a colourant does to light, from films on card
    swatch_fit     its least squares, band by band
    swatch_refine  and by the colours of all films together
    flake          platelets strewn at random, and what they cover
    views          how a recipe looks in the cup, the wall, over the core and in the tail
    window         the loads at which the shell tints and the core still shows
    cores          which core makes a shell read as a third colour
    target         doses for a wanted colour; least is its search
    doses          %, grams, drops and spoons
"""
