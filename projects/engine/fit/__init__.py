"""The dimension engine: from a plan and readings to every size, exactly.

- ``elimination`` exact linear algebra on sparse rows, with certificates
- ``equations``   the plan as linear equations between face positions
- ``system``      solved once for a plan and a set of facts: every size as a form
- ``solve``       a build: values into the forms, what gives, what is in doubt
- ``cuts``        what is cut for each joint
- ``uncertainty`` how far off a size can be, from the instruments used
- ``many``        all sizes of a whole class at once
- ``fits``        how sure each joint and each distance is, what to read again
- ``dry_fit``     where a dry assembly is measured, and what is cut to it
- ``squareness``  whether it is square, from its two diagonals
- ``advice``      what to log next, and readings that deserve a second look

The core idea with a small worked example stands in DEVELOPERS.md.
"""
