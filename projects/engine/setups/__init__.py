"""What is set at a machine for the joints of a plan, and shared across a class.

- ``words``            a sentence with lengths in it, to be translated and filled
- ``setting_records``  a setting: its numbers with their sums, how each part is laid
- ``setting_sums``, ``setting_work``, ``setting_hosts``, ``setting_guests``,
  ``setting_laying``   from joints and sizes to cuts, and how the part lies for each
- ``settings``         `step_settings`: the settings of a step at a machine
- ``lap_faces``        which faces half laps are cut from
- ``setting_stopped``  what usual practice does about stopped and drop cuts
- ``setting_words``, ``setting_scene``, ``setting_drawing``  the same told and drawn
- ``dado_set``         the stack for a slot's width, exact
- ``slot_way``         a dado set, a bit or several passes, as the shop has them
- ``grouping``         the fewest setups for many wishes, exact
- ``ordering``         setups in an order of least change
- ``run_sheet``        `run_sheet`: a class's setups at one machine
"""
