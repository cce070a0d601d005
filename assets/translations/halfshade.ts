<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" sourcelanguage="en">
  <context>
    <name>Aim</name>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>1 beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Add beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Aim</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Arc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Fit all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Fit beam to target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Fit to target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Go to isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Here beams are arranged around the patient and opened around the target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Isocentre at cursor</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Isocentre at target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Jaws and leaves of this beam around the target with the margin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Margin around the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Pages of Aim</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Room</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Set-up</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Show patient, volumes and beams in the room in place of the beam's-eye view</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>margin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>no beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>with</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>{0} beams</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>ApertureShape</name>
    <message>
      <location filename="../../app/views/aperture_shape.py" />
      <source>collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/aperture_shape.py" />
      <source>leaf {0} {1}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BalanceBeams</name>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Name of the beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Proposed with wedge {0}, its toe to {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Proposed without the wedge {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Weight by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Weight that serves the goals best</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Yours</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>{0} MU in one fraction by hand, {1} MU as proposed</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BalanceGoals</name>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>(no volume yet)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Metric, as in TG-263, and what is demanded of it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Prio.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Priority 1 counts ten times as much as 2, 2 ten times as much as 3</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Priority {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Reached with the proposed weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Reached with the weights by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Volume of the goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Weights were not pushed towards it: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Whether the goal counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Yours</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>{0} (awaited)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BalancePanel</name>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Accept weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Back to the goal ledger</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Balance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Balance weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Balancing…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Draw the proposal, your plan as thin lines; or your plan as it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Find the weights that serve the ticked goals best; nothing changes until you accept</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Goals by hand and as proposed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Goals or beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>It stopped: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Keep mine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Least MU of each beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Least monitor units of each beam in one fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Let the proposal go; nothing of it stays</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>MU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Make the proposed weights the draft's, as one step that can be undone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Most MU of each beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Most monitor units of each beam in one fraction; 0 for any</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Nothing better than yours was found.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Progress</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Show it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>State of the balancing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Tick the goals that count.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Try the wedges of the machine in every beam too; each needs a dose, so it takes a while</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Wedges</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>Weights by hand and as proposed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>What is missed, weighed by priority, falls from {0} to {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>any</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>{0} of {1} met, yours {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>{0}; wedges: {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/balance.py" />
      <source>{0}; {1} not pushed</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamArc</name>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Arc around the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Arc with this opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Control point shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Degrees between control points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Degrees, IEC 61217</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>First gantry angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>From</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Jaws and leaves stay as they are shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Last gantry angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Leaves follow the target's outline with the margins of Opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Make it a beam that stands still at the control point shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Seen by someone who faces the gantry; clockwise angles grow (IEC 61217)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Stand still</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>This beam stands still. An arc gives its monitor units while the gantry turns.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>Which way the gantry turns</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>anticlockwise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>clockwise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>every</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_arc.py" />
      <source>{0} turns over {1}°. Control point {2} of {3}, gantry {4}°.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamDevices</name>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Bolus: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Boluses that lie on the patient for this beam: volumes of role BOLUS</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>No bolus</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>The jaw that the thin end of the wedge points to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Wedge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Wedge in this beam; the dose and the monitor units follow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Wedge of this beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>Where the toe of the wedge points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>a bolus that is gone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>gone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>none</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>toe to {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>{0} (virtual)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_devices.py" />
      <source>{0} and {1} more</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamEdits</name>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Add a beam first: the isocentre belongs to the beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Add beam at {0}°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Add beam opposed to {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Add {0} beams spread evenly</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Change machine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Change weight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Duplicate {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Fit to target with {0} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Isocentre at target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Isocentre where clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Lay bolus on</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Move isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Move jaws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Move leaf</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Move leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Remove {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Take bolus off</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Take wedge out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>There is no target to centre on. Paint one in Outline.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>There is no target to fit to. Paint one in Outline.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Turn gantry</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Turn wedge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>Wedge {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>{0} has no wedge {1}; {2} is without a wedge now.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/beam_edits.py" />
      <source>{0} moves the {1} jaws between {2} and {3} mm, so they stop there.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamRing</name>
    <message>
      <location filename="../../app/views/ring_words.py" />
      <source>  couch {0}°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/beam_ring.py" />
      <source>Double-click: add a beam at {0}°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/beam_ring.py" />
      <source>Drag around: gantry. In or out: weight. Shift: tenths of a degree. Double-click: beam's-eye view.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/beam_ring.py" />
      <source>Turn couch</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamSetup</name>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Couch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Give the set-up point, and the couch's way from it to the isocentre stands here.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Head and couch have the sizes of the machine file, typical and not verified</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>IEC 61217, couch at 0°: up, towards the gantry, to the right of who faces it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Isocentre: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Look before you turn: {0} mm between head and {1} at {2}°.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Put at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Remove the set-up point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Room</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Set-up point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>The isocentre of all beams: at the cross-hair or in the middle of a volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>The point the patient is set up to: at the cross-hair, at a marker, at an isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>Without a body outline nothing is known.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>mm in the patient: +x left, +y back, +z head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>the couch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>vertical {0}, longitudinal {1}, lateral {2} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_setup.py" />
      <source>{0} mm between head and {1} at {2}°.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamShape</name>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Add</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Add a smaller copy of this opening, to be changed: a field in a field</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Find angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Fit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Fit this opening to the target with a margin of its own on each side</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>How far leaves reach beyond the organ</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Kept around the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Leaves over</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Left free between target and {0}, at the isocentre plane, in the axes of the leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Margin around the organ</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Margin towards {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Margins</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Move leaves over the organ as far as the target allows; leaves only close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>No leaf comes nearer to the target than this: the target goes first</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Open beyond the target at the best angle, and at the present one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Opening shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Openings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Openings that are given one after another from this angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Organ that leaves move over</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Search the collimator angle that leaves least open beyond the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Share of the beam's monitor units; the other openings keep their ratios</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Share of this opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Take this opening out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>Turn and fit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>an arc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>target +</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>{0} of {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beam_shape.py" />
      <source>{0}°: {1} cm², now {2} cm²</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamTable</name>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>A beam needs a name of its own, 1 to 64 characters; “{0}” cannot be used.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Coll.
°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Collimator angle, degrees, IEC 61217</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Couch
°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Couch angle, degrees, IEC 61217</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Energy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Field width along X at the isocentre: X2 − X1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Field width along Y at the isocentre: Y2 − Y1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Gantry
°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Gantry angle, degrees, IEC 61217</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>MU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Machine and energy; a double click chooses another</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Monitor units in one fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Name of the beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Rename beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Share of the monitor units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>The dose is out of date: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Turn collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Turn couch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Weight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>X
mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>Y
mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>a number that is not negative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>degrees, as in IEC 61217</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>the width in mm at the isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>{0}, {1}: {2}° is the same as {3}°.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>{0}, {1}: “{2}” cannot be used. Type {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/beam_table.py" />
      <source>{0}1 {1} mm, {0}2 {2} mm</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamView</name>
    <message>
      <location filename="../../app/views/beam_view.py" />
      <source>Beam's-eye view</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/beam_view.py" />
      <source>The beam's-eye view appears here once there is a beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/beam_view.py" />
      <source>Turn collimator</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>BeamsPanel</name>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Add a beam in the widest gap, fitted to the target (Insert)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Add beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Add more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Add opposed pair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Beam opposed to this one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Copy of this one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Double-click the ring around the slice to add a beam there, or use Add beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Fan of {0}, couch turned</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Four at right angles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Isocentre at cursor</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Mirror image of this one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Opposed pair, front and back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Opposed pair, left and right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Remove this beam (Delete)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Sets, the opposed beam, the mirror image, a copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Tangential pair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>There is no beam yet. Add one first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>To my next click, on any plane</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>To the cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>To the cross-hair, this beam only</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>To the middle of the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>Where the axes of the beams of this draft meet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/beams.py" />
      <source>{0} beams, evenly spaced</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>CaseFacts</name>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Born</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Identity</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>No name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Pixels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Position</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Sex</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>Slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>synthetic, no person was imaged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>{} × {}, {:.3g} × {:.3g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/case_facts.py" />
      <source>{}, {:g} mm apart</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Changes</name>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>CT image changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>CT-number-to-density curve changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>aperture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>body outline changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>bolus</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>couch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>density override changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>direction of the wedge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>dose grid changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>gantry</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>machine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>machine data changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>wedge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} added</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} and {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} and {1} more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} of all beams changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} removed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/what_changed.py" />
      <source>{0} {1} changed</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Comparing</name>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>A, {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>Another observer's structure set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>B, {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>Choose two volumes, or read another observer's structure set of the same images.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>Comparing…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>One of the two is empty, so there are no distances.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>Take {} over from {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>This failed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>taken over from {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/comparing.py" />
      <source>{} volumes of {} are compared; the case stays as it is.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Comparison</name>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>2 |A and B| / (|A| + |B|): 1 is the same, 0 nothing in common</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>95 % of a surface lie nearer to the other than this; the larger of both ways (Hausdorff 95 %)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>A volume of this case, or of the structure set read as another observer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Add the observer's volume to the case as a new one; undo takes it back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Added path</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Centre of B less that of A: + is left (x), back (y) and head (z) of the patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Compare with the other observer no longer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Dice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>First volume, A</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>How far apart surfaces and lines count as the same</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Jaccard</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Largest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Largest distance of the surfaces either way (Hausdorff)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Leave out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Length of B's lines further than the tolerance from A's on the same slice, of their whole length: what would be drawn anew to correct A to B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Mean</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Mean distance of the surfaces: over A's surface to B's, the other way round, the mean of both</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Of A and of B, and how much larger or smaller than A it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Other observer…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Pairs of volumes, least alike first</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Read a structure set of these images as another observer's; the case stays as it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Second volume, B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Share of both surfaces that lies within the tolerance of the other one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Shift</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Surface Dice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Take B over</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>The place of the largest distance between the surfaces</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>The slice with the largest area that only one of the two holds</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Tolerance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Worst place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>Worst slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>within</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>{:.0f} of {:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>{:.2f} and {:.2f} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>{} Without a partner: {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>{}: {} volumes of the same name.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/comparison.py" />
      <source>|A and B| / |A or B|</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>ContactSheet</name>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>All pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>Contact sheet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>Next</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>Previous</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>CurvePlot</name>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>Plot of density over CT number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>g/cm³ over CT number, HU</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Decision</name>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Approved</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Comment</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Covers the present plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Decision</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>It is about another draft: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Makes your signature and is kept nowhere. One name uses one passphrase throughout a case.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Name of the reviewer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Nothing is sealed yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Passphrase</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Records of this case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Rejected</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Role</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Save as PDF…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Save the record of {} as PDF</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Seal the decision</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Show</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Show what is typed. A name keeps its first passphrase, so look before you seal.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>The dose calculation was changed since</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>The plan was changed since</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>Time of signing and the start of the record's digest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>medical physicist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>physician</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>reviewer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/decision.py" />
      <source>{} by {}, {}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Demonstration</name>
    <message>
      <location filename="../../app/core/demonstration.py" />
      <source>Chest with a tumour in the lung</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/demonstration.py" />
      <source>Head and neck</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/demonstration.py" />
      <source>Pelvis with a prostate</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DensityPanel</name>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>Add a point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>CT number to density</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>CT numbers and densities</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>Put the curve back that new cases get</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/density_curve.py" />
      <source>Typical curve</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DensityTable</name>
    <message>
      <location filename="../../app/models/density_table.py" />
      <source>CT number, HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/density_table.py" />
      <source>Density, g/cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/density_table.py" />
      <source>edited at intake</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/density_table.py" />
      <source>{} is not a number.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DerivedVolumes</name>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>Change how {} is derived</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>Derive it again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>Derive {} again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>Make derived volumes again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>Make {} a plain volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>it could not be made again: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>it is being made again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>the log says why</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>{} was derived ({}). It keeps its shape as a plain volume; undo brings both back.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/derived.py" />
      <source>{} was derived ({}). Now it is a plain volume with the shape you gave it.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DifferenceLayer</name>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>less</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>no difference in this plane</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>no difference of {0} % or more in this plane</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>one dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>other dose read linearly at this draft's grid points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>strongest at {0} %</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/difference_layer.py" />
      <source>{0} Gy against the other draft</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DoseJobs</name>
    <message>
      <location filename="../../app/core/dose_jobs.py" />
      <source>the dose computation made a mistake</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DoseLayers</name>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>Dose before: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>Old dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>{0} % isodose line: {1} {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>{0} (before the change)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>{0} Gy ({1} %)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>{0}, old</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_layers.py" />
      <source>{0}, quick</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DoseLine</name>
    <message>
      <location filename="../../app/views/dose_line.py" />
      <source>A {0} Gy, B {1} Gy, {2} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_line.py" />
      <source>Dose along the line</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_line.py" />
      <source>sum, {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_line.py" />
      <source>{0} mm from A: {1} Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_line.py" />
      <source>{0}, old</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DoseState</name>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source> Thin lines: before the change.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Accept</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Compute dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Computing the first dose…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Fine dose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Let the thin lines of the plan before the change go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>No beams yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>No dose yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>No dose: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Old dose: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Proposed weights. Thin lines: yours.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Quick dose only; computing was cancelled.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Quick dose; the fine one follows.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>State of the dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>Stop computing; the last dose stays, marked as old</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>The dose is shown in a moment.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/dose_state.py" />
      <source>The dose is there; it is being read in the volumes…</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DraftEdits</name>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>1 goal went with the prescription to {0}; undo takes both back.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Add goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Add goals of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Add {0} goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Begin a draft first: goals belong to a draft.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change isodose levels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change normalisation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Change what dose is reported to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Duplicate draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>New draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Normalise at {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Prescribe first: the point is kept with the prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Remove goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Remove {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Rename draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Replace goals by {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Type another name.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>a draft named {0!r} exists already</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>a draft needs a name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>{0} copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>{1} goals went with the prescription to {0}; undo takes both back.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DraftsPanel</name>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Active draft; type to rename it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>An empty draft with this prescription and these goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Back to the draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Beside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Choose a draft, or type here to rename this one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Colour where this draft gives more (orange) or less (blue) than the one beside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Difference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Draft laid beside this one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Drafts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Duplicate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>New</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>See this draft and others added up, such as a first course and its boost: in Gy or as EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>Sum with…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/drafts.py" />
      <source>none</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DvhBox</name>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Axes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Cumulative or differential; dose in Gy or in percent of the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Cumulative: what receives a dose or more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>DVH</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Differential: what lies at a dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Dose in % of the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Dose in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Dose-volume histogram: how much of each volume receives a dose or more. Each slice fills half a spacing to both sides, also at the ends</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Volume axis in cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>Volume axis in percent of each volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_box.py" />
      <source>cm³</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DvhPlot</name>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>% of volume per Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>Before: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>Dose-volume histogram</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>Dose-volume histogram. Volumes are the slabs of their slices: each slice fills half a spacing to both sides, also at the ends, without caps. Thin lines: the accepted plan. Triangles: goals, filled while missed; in the differential form they stand at their dose. Left and right walk along the active volume's curve.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>The dose-volume histogram appears here once the beams have a dose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>cm³ per Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>dose to medium in % of prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>dose to medium in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>dose to water in % of prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>dose to water in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>volume in %</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>volume in cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_plot.py" />
      <source>{0} Give volume and dose under Prescription.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>DvhWords</name>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>Goal of {0}: {1}. Now {2}: {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>hottest {0}, at least: {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>hottest {0}: {1} or more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0} % of the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0}, per Gy at {1}: {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0}, {1} or more: {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0}: {1} per Gy at {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dvh_words.py" />
      <source>{0}: {1} receives {2} or more</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Edit</name>
    <message>
      <location filename="../../app/tools/freehand.py" />
      <location filename="../../app/tools/polygon.py" />
      <location filename="../../app/tools/region_grow.py" />
      <source>Cut from {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/freehand.py" />
      <location filename="../../app/tools/polygon.py" />
      <source>Draw {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/brush.py" />
      <source>Erase {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/region_grow.py" />
      <source>Grow in {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/nudge.py" />
      <source>Nudge {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/brush.py" />
      <source>Paint {}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>EmptyPage</name>
    <message>
      <location filename="../../app/panels/empty_page.py" />
      <source>Open a patient in Intake</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>EvidenceTable</name>
    <message>
      <location filename="../../app/models/evidence_table.py" />
      <source>Mend it or answer it before signing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/evidence_table.py" />
      <source>Note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/evidence_table.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/evidence_table.py" />
      <source>What is to be seen</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Exporting</name>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>Export RT DICOM into a folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>Go there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>Open a patient first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>The fine dose of {} is not current. Enter Weigh and let it be computed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>There is no plan to export yet: it has no beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>as approved</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>as not approved: this plan is not sealed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/exporting.py" />
      <source>{} files written to {}, {}.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Extremes</name>
    <message>
      <location filename="../../app/views/dose_extremes.py" />
      <source>highest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_extremes.py" />
      <source>target max.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/dose_extremes.py" />
      <source>target min.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Findings</name>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Answer: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Answered</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Change the answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Findings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Findings: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Go there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Keep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Keep the answer with your name (Enter)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Mend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Mend or answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>No finding. Every automatic check holds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Reason</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>Why it can stay as it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>none open</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>{} to mend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/findings.py" />
      <source>{} to mend or answer</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GoalForm</name>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Add</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>At most or at least</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Choose a volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy], Max[Gy]</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Dose-volume metrics are written as in AAPM TG-263, with the unit in brackets.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Metric, as in TG-263</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Priority</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Priority: 1 must, 3 wish</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Source</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Source of the demand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>This goal has been changed or removed meanwhile. Close, and choose it again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Tolerance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Tolerance beyond the limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Volume of the goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>where the demand comes from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>{0} (awaited)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GoalMenu</name>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>1 goal of {1} taken; undo takes it back.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Awaited: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Begin a draft first: goals belong to a draft.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Every goal of {0} is there already.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Load goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Load goals from a file…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Own sets</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Published limits for a site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Save goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Save these goals as a set…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Saved as {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Sources: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>{0} ({1} goals)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>{0} cannot be read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>{0} cannot be written ({1}). Choose another place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>{0} goals of {1} taken; undo takes them back.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GoalOffer</name>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Add to the ledger</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Check each demand against your own rules before you take it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Demand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Goals of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Prio.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Replace the {0} there are</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Source</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>Volumes that are not there yet are awaited: their goals are judged once they are.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>What the set demands</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goal_menu.py" />
      <source>{0} (awaited)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GoalTable</name>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>(volume gone)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>A priority is 1 (must), 2 or 3 (wish).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Demand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>It waits for a volume named {0} and is judged once there is one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Off by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Prio.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Priority {0}: {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Reached</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Source</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>State</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>There is no volume “{0}” in this case.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Tolerance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>met</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>missed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>open</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>tolerance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>tolerance {0} {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>{0} (awaited)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>“Off by” is how far beyond the demand (+) or within it (−).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>“{0}” is not a demand. Write it like ≤ 20 {1} or ≥ 57 {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/goal_table.py" />
      <source>“{0}” is not a tolerance. Write how far beyond the demand still counts, such as 2 {1}.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GoalsPanel</name>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>A goal is one demand on a volume, such as D95%[Gy] ≥ 57. Add one, or take those suggested.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Add</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Change the marked goal: volume, metric, limit, tolerance, priority, source</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Goal ledger</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Goals from published limits for volumes of these names</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Goals of a site with their sources, and goals from files and into files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Sets</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Suggest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>The library has nothing new for these volumes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>Write a new goal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/goals.py" />
      <source>{0} goals added from the library; check each against your own rules.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GrowJob</name>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Cut from {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Enter keeps it, Esc drops it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Grow in {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Growing through all slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Held back: {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>Nothing grew from that place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>This failed; the log says why.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>{:.0f} to {:.0f} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/grow_job.py" />
      <source>{:.1f} cm³ found.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GrowRow</name>
    <message>
      <location filename="../../app/panels/grow_row.py" />
      <source>Add what is shown to the volume (Enter)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/grow_row.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/grow_row.py" />
      <source>Keep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/grow_row.py" />
      <source>Leave the volume as it is (Esc)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/grow_row.py" />
      <source>Progress of region growing</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Guard</name>
    <message>
      <location filename="../../app/core/guard.py" />
      <source>Guard rests: {} cannot guard itself</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/guard.py" />
      <source>Only inside {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/guard.py" />
      <source>Only outside {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/guard_layer.py" />
      <source>{} is derived</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/guard_layer.py" />
      <source>{} is derived: a stroke makes it plain</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>GuardRow</name>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>Guard</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>Guard (O): every tool keeps inside, or outside, the volume beside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>Guarding volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>Only</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>Side of the guarding volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>inside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/guard_row.py" />
      <source>outside</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Handover</name>
    <message>
      <location filename="../../app/core/handover.py" />
      <source>Release the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/handover.py" />
      <source>Take the volumes back into work</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/handover.py" />
      <source>Undo the change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/handover.py" />
      <source>{} released these volumes for planning. With this change of {} the release lapses.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Intake</name>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Back to the open patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Cases (*.halfshade)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Change the density curve</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Choose the folder of an MR, PET or CT series with its registration</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Intake</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Lay a second image over the CT…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Open a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Open a folder of images</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Open another patient…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Open the planning CT first, then what is to lie over it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Read volumes from a structure set…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>Reading was cancelled. Choose the folder again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>This folder cannot be read.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>no patient yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/intake.py" />
      <source>{} slices</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>IsocentreClick</name>
    <message>
      <location filename="../../app/stations/isocentre_click.py" />
      <source>Leave it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/isocentre_click.py" />
      <source>The isocentre of all beams is at x {0}, y {1}, z {2} mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/isocentre_click.py" />
      <source>The isocentre stays where it was.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/isocentre_click.py" />
      <source>The next click on any plane puts the isocentre of all beams there. Escape leaves it.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Keeper</name>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>This case is open elsewhere or write-protected: read-only here. Save a copy to work on it.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>KeysDialog</name>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>, and .</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>1 to 5</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>B, E</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Backspace</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>C, Shift + arrow keys</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Click</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl + right button</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl + wheel, + and −</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl+1 to Ctrl+5</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl+J, Ctrl+K</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl+L, Alt + arrow keys</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl+Shift+U, Ctrl+Shift+H</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Ctrl+Shift+Up, Down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Drag with the middle button</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Drag with the right button</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Enter, double click</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Esc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>F, double middle click</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>F11</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>F6</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Home, End</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Keys and gestures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>P, or hold Space</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Page Up, Page Down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Shift</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Tab</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Tools</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Wheel, arrow keys</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>Window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>X, K and L</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>[ and ], Shift + wheel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>balance weights, in Weigh</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>beam ring on or off, in Aim and Weigh</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>body outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>brush radius</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>brush, eraser (E again: brush)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>close a polygon</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>copy from the slice above, below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>dose along a line; its end B moves (with Shift A)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>fill missing slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>first and last slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>fit the pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>freehand, polygon</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>full screen</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>give up what is being drawn</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>guard: paint only inside or outside a volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>its curtain on or off, left and right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>look</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>magnify</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>margin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>move the cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>move the picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>new volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>next finding, compare volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>next part of the window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>paint a ball; grow through all slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>point probe</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>range brush, region grow, edge trace</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>redo</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>release for planning</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>second image on or off, less and more of it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>show all volumes, hide all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>show only this volume, or all again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>stations</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>take away instead of adding</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>take back the last corner</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>ten slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>three slices towards feet or head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>trade the large picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>undo what was typed, then the last step</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>walk slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>window of the second image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>window presets</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>window: level up and down, width sideways</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/keys.py" />
      <source>write in the marked cell</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>LevelKey</name>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Isodose levels</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>LevelsPanel</name>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>100 % are the prescriptions of all drafts added</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Back to the usual levels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Dose wash: off at the left, never so strong that the anatomy is hidden</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Extremes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Isodose levels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Isodose lines</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Isodose lines: sum, {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Labels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Lines</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Mark the highest dose of the plane, and the lowest and highest in the target there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Numbers with spaces between; Enter applies</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Strength of the dose wash</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Type and show levels in percent of the prescription or in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Unit of the isodose levels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Usual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>Wash</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>“{0}” is not a dose. Type numbers in Gy with spaces between, such as 60 57 30.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/levels.py" />
      <source>“{0}” is not a percentage. Type numbers with spaces between, such as 107 100 95 50.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>LookMenu</name>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>As usual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Colour</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Colour of {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Colour {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Fill</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Hide all volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Line</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Show all volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>Show only this volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/look_menu.py" />
      <source>{:g} pixels</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Menu</name>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;About Halfshade</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Dark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Edit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Export RT DICOM…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;File</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Fit the pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Go back to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Help</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Keys and gestures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Magnify all planes together</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Messages so far</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Next part of the window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Open a case…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Quit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Recent cases</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Redo</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Report a fault…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Station</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Trade the large picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;Undo</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>&amp;View</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>As it was opened</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>C&amp;lose the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>CT &amp;window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>F&amp;ull screen</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>Fi&amp;ll the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>L&amp;ight, for bright rooms</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>La&amp;y a second image over the CT…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>No case has been opened yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>One slice towards the &amp;feet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>One slice towards the &amp;head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>Open a &amp;folder of images…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>Read &amp;volumes from a structure set…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>Save a &amp;copy…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>Show the &amp;cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>{0} steps further back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/actions.py" />
      <source>{} (level {:g}, width {:g})</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>MessageStrip</name>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Dismiss</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Newest message</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Problem</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Stop what runs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>Stopping…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/message_strip.py" />
      <source>{0}, 1 of {1}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Messages</name>
    <message>
      <location filename="../../app/core/messages.py" />
      <source>The program made a mistake ({}: {}). Your work is kept. Help &gt; Report a fault shows the log.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>NumberBox</name>
    <message>
      <location filename="../../app/panels/number_box.py" />
      <source>This number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/number_box.py" />
      <source>{0}: {1} is kept as {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/number_box.py" />
      <source>{0}: {1}° is the same as {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/number_box.py" />
      <source>{0}: “{1}” cannot be used, so {2} stays. Possible: {3} to {4}.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Operations</name>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>Choose a volume first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>Nothing would be left.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>Open a patient first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>The scan ends here: there is no next slice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>There is no body outline yet. Find it first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>This changes nothing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>This failed; the log says why.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>This needs a second volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>Working…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>of {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>with {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{:.2f} cm³ becomes {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{:.2f} cm³ on {} slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{} holds nothing on that slice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{} holds nothing on the slice shown.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{} is empty. Paint it first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{} is painted on one slice. Paint a second one to fill what lies between.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/operations.py" />
      <source>{} is the body itself. Shrink it by a margin below zero.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>OtherPlan</name>
    <message>
      <location filename="../../app/core/other_plan.py" />
      <source>, quick dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/other_plan.py" />
      <source>No draft is chosen to lay beside this one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/other_plan.py" />
      <source>{0} has no dose yet: make it the active draft once.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/other_plan.py" />
      <source>{0} is being read…</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Outline</name>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Compare volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Fill missing slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Hide all volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Margin…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;New volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Release for planning…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>&amp;Show only this volume, or all again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>1 volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>B&amp;ody outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Compare</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Copy &amp;to the slice above</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Copy from the slice &amp;above</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Copy from the slice &amp;below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Copy to the slice belo&amp;w</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Findings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Findings ({})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Here a physician paints target and organ volumes, slice by slice, and looks after their quality.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>New volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Next f&amp;inding</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Next slice missing a&amp;bove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Next slice missing b&amp;elow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>No slice of {} is missing in that direction.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Operations</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Pages of Outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Release lapsed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Show a&amp;ll volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>There is no volume to paint yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>There is nothing to be seen in the volumes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>Tools</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>no volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>{} volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>{} volumes, released</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/outline.py" />
      <source>{} volumes, {} marked</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PairTable</name>
    <message>
      <location filename="../../app/models/pair_table.py" />
      <source>95 % mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/pair_table.py" />
      <source>Dice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/pair_table.py" />
      <source>Mean mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/pair_table.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Picture</name>
    <message>
      <location filename="../../app/report/plane_picture.py" />
      <source>% of prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>; bolus {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>; wedge {0}, toe to {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Build-up, square fields</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Demand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Depth doses, square fields</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Depth doses: measured (points) and model (lines)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <location filename="../../app/report/fit_pictures.py" />
      <source>Depth in water (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Difference (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <location filename="../../app/report/fit_pictures.py" />
      <source>Dose (% of the axis)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <location filename="../../app/report/fit_pictures.py" />
      <source>Dose (% of the maximum)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Dose to medium (Gy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Dose to water (Gy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Energy (MeV)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>Jaws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>Leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Model less measured where dose is not steep; limit 2 % shaded (tail: 3 % of the axis)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>No dose-volume histogram: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Output (% of the largest)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Output factor</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Output factors, 100 x 100 mm = 1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Output factors: measured (points) and model (line)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Photon spectrum on the axis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Photons per MeV, all = 1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <location filename="../../app/report/fit_pictures.py" />
      <source>Position (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Priority</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>Profiles along {axis}, {depth} mm deep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/fit_pictures.py" />
      <source>Profiles along {axis}, {depth} mm deep: measured (points) and model (lines)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Reached</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <location filename="../../app/report/fit_pictures.py" />
      <source>Side of the square field (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>State</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>This draft has no goals.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>gantry {:g}°, collimator {:g}°, couch {:g}°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>in air (Sc)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_picture.py" />
      <source>jaws X {0:.0f}, Y {1:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>phantom scatter (Sp)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>total (Scp), 100 mm deep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/beam_data_pictures.py" />
      <source>total, at the maximum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/chart_pictures.py" />
      <source>{0} Give volume and dose under Prescription in Aim.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/plane_picture.py" />
      <source>{0}, under half</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Places</name>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>Cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>Isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>Middle of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>Set-up point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>The cross-hair</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>The isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>The middle of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>The set-up point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/places.py" />
      <source>{0} (from the structure set)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PlacesLayer</name>
    <message>
      <location filename="../../app/views/places_layer.py" />
      <source>Click: the isocentre of all beams goes here. Escape: it stays.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/places_layer.py" />
      <source>Set-up point</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PlanFollower</name>
    <message>
      <location filename="../../app/core/plan_follow.py" />
      <source>the new one is not there yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/plan_follow.py" />
      <source>volumes changed</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PlanStage</name>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Beam ring</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/aim.py" />
      <source>Point probe (or hold Space)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PlanWatch</name>
    <message>
      <location filename="../../app/stations/plan_watch.py" />
      <source>Show the beam</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PointList</name>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Move the cross-hair to this point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Named point; type to rename it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Points that came with structure sets: choose one, or type here to rename it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Remove {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Rename {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Show</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_list.py" />
      <source>Take this point out of the case; what was put at it stays. Undo brings it back</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PointProbe</name>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>Point probe</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>at the point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>before the change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>depth mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>in no volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>in water mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>no dose yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>together</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/point_probe.py" />
      <source>{0} % of prescr.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PointRow</name>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Move the cross-hair to the point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Name of the point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Point of the normalisation, {0}, mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Put at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Show</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>Take the cross-hair, the isocentre, a point of the structure set or a volume's middle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>What the point is called on the record and in the RT Plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/point_row.py" />
      <source>mm in the patient: +x left, +y back, +z head</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>PrescriptionPanel</name>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source> Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>= {0} Gy each</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Absorbed dose to the tissue of each place, or to a small amount of water there (higher in bone)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>At a point = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>At isocentre = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Choose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Choose the volume the dose is prescribed to.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>D2 % = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>D50 % = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>D95 % = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>D98 % = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Dose is reported to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Go to Outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Highest dose = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Mean dose = prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>None: weight × 100 MU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Normalise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Prescribed dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Prescribed volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>Spacing of the points where the fine dose is read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>The prescribed volume is empty.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>There is no target volume yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>To</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>What of the prescribed volume is made equal to the prescription; MU follow from it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>dose to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>fr.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>medium</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/prescription.py" />
      <source>water</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Preset</name>
    <message>
      <location filename="../../app/views/grey.py" />
      <source>Bone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/grey.py" />
      <source>Brain</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/grey.py" />
      <source>Lung</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>Own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/grey.py" />
      <source>Soft tissue</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/grey.py" />
      <source>Wide</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Rail</name>
    <message>
      <location filename="../../app/panels/rail.py" />
      <source>Stations</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>RailButton</name>
    <message>
      <location filename="../../app/panels/rail.py" />
      <source>{} (Ctrl+{})</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>RecipeRow</name>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>Derived: {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>Gap and width in mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>Keep the shape and follow nothing any more; undo brings the recipe back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>Make plain</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>Numbers of the recipe</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>One number for all, or one for each: left, right, anterior, posterior, inferior, superior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>The number of the operation it is derived by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>{} Out of date: {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/recipe_row.py" />
      <source>“{0}”: these are no numbers. Write them apart by spaces, such as 5 or 5 5 5 5 8 8.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Record</name>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Decision</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Digests</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Findings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>None.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Program</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Public key</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Record</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Record before</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Signature</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Volumes and dose-volume numbers: each slice fills half a slice spacing to both sides, also the first and the last; pixels count by the share of them that lies inside.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>What was signed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>it came out incomplete</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>synthetic patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>{} of {} were opened at full size by the reviewer.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>ReleaseBar</name>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Cancel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Changed since the release: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Hand the volumes over to planning under a physician's name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>In work, not released</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Name of the physician who releases</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Note to the release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Physician</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Planning sees that no physician has released the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Release by {} lapsed: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Released by {}, {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Release…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Take back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>Take the volumes back into work; undo brings the release back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/release_bar.py" />
      <source>{} UTC, {} volumes, digest {}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>RoomView</name>
    <message>
      <location filename="../../app/views/room_view.py" />
      <source>Drag or use the arrow keys to turn; wheel, + and − magnify; Home goes back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/room_view.py" />
      <source>Room view</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SecondBar</name>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Blend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Blend of the second image, percent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Blend: planning CT at the left, second image at the right (K less, L more)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Brightest value</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Brightest value: moved to {0}, because it must lie above the darkest.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Curtain</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Darkest value</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Darkest value: moved to {0}, because it must lie below the brightest.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Planning CT left of a line, second image right of it (C); drag the line, or Shift and the arrow keys</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Second image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Show the second image, or the planning CT alone (X)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Take the second image out of the case; undo brings it back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Which second image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>Window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>{}
placed by: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/second_bar.py" />
      <source>{} of the second image (Ctrl and drag with the right button)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SecondImage</name>
    <message>
      <location filename="../../app/views/second_layers.py" />
      <source>Planning CT left, second image right: drag (Shift + arrows)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SecondOverlay</name>
    <message>
      <location filename="../../app/views/second_overlay.py" />
      <source>Remove second image {}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SecondReading</name>
    <message>
      <location filename="../../app/stations/second_reading.py" />
      <source>Lay over {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/second_reading.py" />
      <source>Open a DICOM spatial registration</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/second_reading.py" />
      <source>Open the planning CT first, then what is to lie over it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/second_reading.py" />
      <source>{} lies over the planning CT, placed by {}. X shows and hides it.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SeriesList</name>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>1 DICOM file is damaged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>1 file is not DICOM</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Choose a folder that holds a CT series as DICOM files; folders within it are searched, too</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Copy or export the damaged files again, or choose a folder that holds a CT series as DICOM files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>How the patient lies, used only where the files are silent: head or feet first, supine or prone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>It can be laid over a planning CT once that is open.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>It can be laid over the planning CT.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Lay it over the planning CT by a DICOM spatial registration you choose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Lay over the planning CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Not over the planning CT: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Open this series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Patient position</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Reading the folder…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Series found</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>Show this series over the CT of the open patient; nothing is computed with it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>The series of the folder you open appear here, each with what is wrong with it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>With a registration…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>as the files say</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>{} DICOM files are damaged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>{} files are not DICOM</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/series_list.py" />
      <source>{} series, {} can be opened</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SeriesTable</name>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>Date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>Files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>Kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>Patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>Series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>State</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>can be laid over a planning CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>can be opened</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/series_table.py" />
      <source>no description</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SetMenu</name>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>1 volume added, empty.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Add the volumes of {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Every volume of {} is there already.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Load a set from a file…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Load a set of volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Own sets</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Remove the empty volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Remove the volumes that are empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Save a set of volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Save these volumes as a set…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>Saved as {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>{} ({} volumes)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>{} cannot be read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>{} cannot be written ({}). Choose another place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/set_menu.py" />
      <source>{} volumes added, empty.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>ShapeEdits</name>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Add a fan of {0} beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Add mirror image of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Add opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Add tangential beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Collimator at {0}°, fitted to the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Leaves over {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Make an arc of {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Make the beam stand still</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Remove opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Share of an opening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Tangential beams need a target and a body outline. Paint them in Outline.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>There is no target to fit to. Paint one in Outline.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>Turn collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>{0} is covered as far as the target allows already.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/shape_edits.py" />
      <source>{0} was changed meanwhile, so the arc was not made. Ask again.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Sign</name>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>1 finding open</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Answer a finding</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Back to the pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Compute the dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Drawing picture {} of {}…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Findings: being checked…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Gathering what there is to read…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Give your name in the decision first: an answer carries its author.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Go on</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Go to Aim</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Go to Intake</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Not sealed: {}. {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Open a patient and arrange a plan first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>PDF (*.pdf)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Save the record</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Sealed: {} by {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Sealing keeps this plan, its pictures and your decision; a later change is shown as such.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Sealing…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Sign</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>The pictures are made from the fine dose of this plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>The pictures are made from the fine dose. It is being computed…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>The pictures were stopped.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>The record is written to {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>There is nothing to sign yet: no patient is open.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>There is nothing to sign yet: the plan has no beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>Walk through the slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>approved</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>changed since signed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>not signed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>rejected</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>{} findings open</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign.py" />
      <source>{} of {} slices looked at, marked in the strip</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SignWaits</name>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>1 finding must be mended or answered before approval.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>1 picture was not opened yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>A record needs a case file that can be written. Save a copy to sign it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>Choose approved or rejected.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>Give a passphrase of at least {} characters.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>Give your name and role.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>There is nothing to decide yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>This plan is sealed. Choose again only to add another decision.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>Waiting for the fine dose of this plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>Waiting for the pictures.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>{} findings must be mended or answered before approval.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/sign_waits.py" />
      <source>{} pictures were not opened yet.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>StackStrip</name>
    <message>
      <location filename="../../app/views/stack_strip.py" />
      <source>All slices from head to foot; arrow keys walk them</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/stack_strip.py" />
      <source>Stack strip</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/stack_strip.py" />
      <source>lowest dose in the target (D98): {:.0f} % of the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/stack_strip.py" />
      <source>slice {} of {}, z {:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/stack_strip.py" />
      <source>{}: {:.2f} cm²</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Stage</name>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>Axial</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>Axial slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>Coronal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>Coronal slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>Sagittal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>Sagittal slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>What lies under the pointer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>slice {} of {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>x {:.1f}  y {:.1f}  z {:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>{:.3f} g/cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>{}  level {:.0f}  width {:.0f} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>{}  {:.0f} / {:.0f} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/linked_views.py" />
      <source>{} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/layers.py" />
      <source>{} mm</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Station</name>
    <message>
      <location filename="../../app/stations/station.py" />
      <source>Aim</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/station.py" />
      <source>Intake</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/station.py" />
      <source>Outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/station.py" />
      <source>Sign</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/station.py" />
      <source>Weigh</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>StructureReading</name>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>Open the images first, then the structure set that belongs to them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>Points to set up at and to normalise to: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>Read its volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>Read volumes from a structure set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>Read {} volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>The folder also holds a structure set for these images ({}).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>The structure set holds no volume that can be used.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/structures.py" />
      <source>{} volumes read from {}.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumDvhPlot</name>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>Dose-volume histogram of a sum of drafts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>EQD2 in % of prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>EQD2 in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>EQD2: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>Gy EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>physical dose in % of prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>physical dose in Gy</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumGoalTable</name>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Demand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Doses of metric and demand are read as EQD2 with {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Of</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Percentages of the prescription are judged only where all drafts prescribe to one volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Sum in EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Sum in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>{0} EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>{0} Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>{0}; a demand of {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>α/β</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumLedger</name>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>EQD2 in Gy, demands too; α/β: common practice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>EQD2 in Gy, demands too; α/β: common practice, {0} chosen here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>Goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>Goals of a sum of drafts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>The demands of all drafts of the sum, judged by the sum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>Volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>Volumes in a sum of drafts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>What each volume receives of each course, and its α/β</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_ledger.py" />
      <source>physical dose in Gy</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumPanel</name>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source> Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>A picture needs one α/β for all it shows; volumes have their own in the table under the stage</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>A view of these drafts together, no plan: it is not kept, signed or exported, and goes when one of them changes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Back to the draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Courses of the sum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Each course in 2 Gy fractions of the same effect, by its own dose per fraction in every voxel; then added</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Leave the sum; the active draft stands as it was</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Other dose grids are read linearly at the points of the finest.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Physical dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>Show</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>The doses are being added…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>The doses of all courses added, in Gy as absorbed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>{0}: {1} Gy in {2} × {3} Gy to {4}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>α/β of isodose lines, points and the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/sum_panel.py" />
      <source>α/β of lines, body</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumPlan</name>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>EQD2 in Gy, {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>EQD2, α/β {0} Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>Gy EQD2 ({0})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>The {0} is gone: {1}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>a volume was changed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>another case is open.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>another draft is active.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>chosen here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>physical dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>physical dose in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>sum {0} Gy = {1} a fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>sum {0} Gy EQD2 (α/β {1} Gy) of {2} Gy a fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>{0} was changed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>{0} was removed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/sum_plan.py" />
      <source>α/β {0} Gy, {1}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumStage</name>
    <message>
      <location filename="../../app/views/sum_stage.py" />
      <source>100 % = {0} Gy</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumTable</name>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>(volume gone)</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>SumVolumeTable</name>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Sum D2%
{0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Sum mean
{0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>{0}
mean (each)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>{0}: {1}. Double click on α/β to change it; empty for the usual value.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>α/β
Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>α/β from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/sum_tables.py" />
      <source>“{0}” is not an α/β. Type Gy, such as 3; leave it empty for the usual value.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Texts</name>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>About Halfshade</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Copy this text into your report and say what you did before. It holds no image, but it may hold file names and names of volumes: read it through first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>For research and education.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Halfshade {}

Outline target and organ volumes on CT, arrange photon beams, compute their dose, judge it against goals, and sign what was reviewed. Open source under the Apache License 2.0.

Angles follow IEC 61217, lengths are mm, doses Gy, patient axes those of DICOM. The limits of the dose calculation and what it was checked against are in the README.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Messages so far</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Newest first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/dialogs/texts.py" />
      <source>Report a fault</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Thumb</name>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>looked at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/views/contact_sheet.py" />
      <source>not looked at yet</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Tool</name>
    <message>
      <location filename="../../app/tools/region_grow.py" />
      <source>Region grow: {}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/tool.py" />
      <source>The tools are being made ready; they can be used in some seconds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/nudge.py" />
      <source>There is no edge of {} to nudge on this slice. Paint it first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/tool.py" />
      <source>There is no volume to paint yet. Make one in the list of volumes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/tool.py" />
      <source>This case is read-only here. Save a copy to paint in it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/tools/polygon.py" />
      <source>Too few corners to enclose anything. Set more, or Esc gives them up.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>UnlikeLayer</name>
    <message>
      <location filename="../../app/views/unlike_layer.py" />
      <source>only in {0}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>VolumeFindings</name>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Choose a row: a click or Enter goes to the place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Distance of targets to the skin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Findings on the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Go there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Move the cross-hair to the place (Enter, or a click on the row)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Nothing to be seen in the volumes. They are looked at after every edit.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Skin nearer than</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_findings.py" />
      <source>Targets nearer to the skin than this are told, here and before signing</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>VolumeList</name>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source> g/cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>A new volume with the same shape</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Colour, fill and line of the active volume, and which volumes are shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Compute dose with this density instead of the CT's inside the volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Delete</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Delete the active volume; undo brings it back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Delete {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Density of the volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Density of {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Display</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>New</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>New volume (Ctrl+N)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>New volume {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>No volume yet. New makes one to paint, Sets the usual ones of a site; Operations can find the body.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Own density</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Sets</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>The usual volumes of a site, added empty; undo takes them back. Names of AAPM TG-263, a choice of our own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>Volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_list.py" />
      <source>copy of {}</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>VolumeOperations</name>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>A shell around it from the gap on (negative: inside it), as thick as the width.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>About x</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>About y</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>About z</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Above</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>All as the first</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Anterior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Anywhere</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Apply</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Body outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Bone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>CT-number range</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Choose an operation…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Closes holes within a slice; 0 closes all.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Combine: A and B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Combine: A or B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Combine: A or B, not both</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Combine: A without B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Copy from the slice above</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Copy from the slice below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Copy to the slice above</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Copy to the slice below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Discard</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Drops every other separate piece.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Drops small separate pieces; 0 keeps only the largest.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Each is shown on the stage, dashed, before it is applied.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Fill closed cavities</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Fill holes in slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Fill missing slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Fills what is closed in on every side, through the slices too; 0 fills all.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Finds the left and the right lung without the airways: a start to correct by hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Finds the patient's outline without the couch.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Finds the pixels inside the range, in the whole image or inside a volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Finds what is dense inside the body: a start to correct by hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>From</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>From the CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Gap</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Grows by six distances; negative ones shrink.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Inferior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Interpolates between the painted slices.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keep a CT-number range of A</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keep a gap to another</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keep a gap to the skin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keep inside another</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Keep it derived</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keep the largest piece</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keeps the part of A at least the gap away from B.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keeps the part of A at least the gap inside B.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keeps the part of A at least the gap inside the body.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Keeps the pixels of A inside the range.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Leave everything as it is (Esc)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Left</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Look inside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Lungs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Make what is shown dashed one step that can be undone (Return)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Margin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Move and turn</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Moves it, after turning it about its centre: x points left, y to the back, z to the head.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Only inside</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Operation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Posterior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Put it into a new volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Remove small pieces</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Replaces the next one towards the feet and goes there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Replaces the next one towards the head and goes there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Ring</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Rounds each line and keeps its area.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Rounds the surface through the slices too, in true mm, and keeps the volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>Second volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Size and place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Smaller than</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Smooth each slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Smooth in all directions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Superior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Surface and pieces</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_operations.py" />
      <source>The new volume is made again whenever a volume it is made from changes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>The whole image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>To</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>To back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>To head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>To left</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Towards the feet; replaces the slice shown.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Towards the head; replaces the slice shown.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Up to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Volume B</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>What lies in A but not in B.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>What lies in both. A is the active volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>What lies in either. A is the active volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>What lies in one of them only.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>Width</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/operation_list.py" />
      <source>With a second volume</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>VolumeTable</name>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Changed since it was released for planning.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Choose another.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Derived: {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Make {} {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Nothing to be seen.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Rename {} to {}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Role</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>Volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>What is to be seen in a volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>What it is derived from has changed; it is yet to be made again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/volume_table.py" />
      <source>there is already a volume of this name</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>VolumeTools</name>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source> HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source> cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source> mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>A ball: paints the slices beside as well (D)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>A pen pressed lightly paints with a smaller radius</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>All slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>At most: largest volume; says when it stopped there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Ball</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Brush</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Brush radius</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Brush radius ([ and ])</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Brush radius ([ and ], Shift and wheel)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>CT from, to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Click along an edge; the line keeps to it. Enter closes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Click moves the cross-hair, nothing is changed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Click the corners; Enter or a double click closes, Backspace takes one back.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Drag to paint. Shift takes away, E swaps, D makes a ball.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Drag to take away. Shift paints, E swaps, D makes a ball.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Draw around it. Keys , and . go three slices, Ctrl+I fills.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Edge trace</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Eraser</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Freehand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Grow through all slices; shown before it is kept (D)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Highest CT number painted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>How unlike may still join</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Leaks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Look</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Lowest CT number painted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Neck: what hangs on only through necks narrower than this is left out; 0 lets all pass</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Nudge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Paints only CT numbers between the two below.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Pen pressure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Polygon</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Press; drag sideways to widen.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Push an edge: from inside outward, from outside inward.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Radius</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Range brush</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Reach: farthest from the place; it says when it stopped there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Region grow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Shift takes away.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/volume_tools.py" />
      <source>Tolerance ±</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Warmer</name>
    <message>
      <location filename="../../app/core/warm.py" />
      <source>The first start on this machine makes the tools ready for it; they can be used in some seconds.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Weigh</name>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Accept the change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Balance weights…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Balance…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Dose along a line</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Go to highest dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Here beams are weighed against each other; isodose lines, DVH and goals follow the hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Let the machine find weights that serve the goals best, and compare them with yours (Ctrl+B)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>Weigh</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>a sum is shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>no dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>no goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>old dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>proposed: {0} met</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>quick, {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>reading dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/stations/weigh.py" />
      <source>{0} of {1} met</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>WeightBalance</name>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Accepted; undo takes them back.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Balance weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Balance weights and wedges</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Balancing the weights failed by a fault of the program; it is in the log.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>It waits for the fine dose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Lapsed: {0} changed since.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>Stopped; the weights are yours.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>There are no beams yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>There are no goals yet; weights are balanced against goals.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>the dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>the draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>the normalisation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>volumes or densities</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/weight_balance.py" />
      <source>weights</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Welcome</name>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>A case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>A demonstration patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>A folder of DICOM files. You can also drop it anywhere on this window.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>Begin with a patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>CT images</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>Everything decided so far is in one file; it opens where you left it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>Open a case…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>Open a folder of images…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/panels/welcome.py" />
      <source>Synthetic, computed from shapes; no person was imaged. Good for a first look around.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Window</name>
    <message>
      <location filename="../../app/window.py" />
      <source>Cases (*{})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Choose a place…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Keep the new case as</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>No name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Open a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Open a folder of images</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Save a copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>The case is kept in {}; every edit is saved as you work.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>read-only</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>{} (synthetic)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>{} The case waits meanwhile.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>{} is not there. Choose another file or folder.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Words</name>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source> (and {size} more such gaps)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source> ({count} damaged)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source> Is it in cm?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source> and {count} more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <location filename="../../engine/beams/wedge.py" />
      <source>(no name)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>(none named)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>, only {count} other DICOM files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>--ct needs --plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>--fields</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>--grid-mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>--metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>--threads</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>100 × 100 mm, SSD {sad_mm:g} mm: maximum at {d_max_mm:.1f} mm, PDD(100 mm) {pdd_10:.1f} %, PDD20/PDD10 {pdd_20_10:.3f}, TPR20,10 {tpr_20_10:.3f}, surface {surface_percent:.1f} %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>A GTV lies inside its CTV, and a CTV inside its PTV (ICRU 83).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>A beam has a weight or is removed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>A bolus that a beam names is painted and is a bolus; a bolus that is painted belongs to a beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_handover.py" />
      <source>A derived volume is made from its parents as they are now.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>A dose per fraction outside 1 to 8 Gy is meant and understood.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A name is one of AAPM TG-263, so that it means the same everywhere.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>A plan has a prescription: dose, fractions and the target it refers to.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>A plan has beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>A plan is judged against goals.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_handover.py" />
      <source>A plan stands on volumes that a physician released for planning.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>A point the dose is normalised at lies inside the target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A target keeps its distance from the skin, or the build-up there is dealt with.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A target or organ lies inside the body outline.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume has a size that its name lets expect; the range is from memory and only a hint.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume has no hole that was not meant.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume has no missing slice between its first and its last.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume has no stray piece apart from its main body.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume in the list holds something or is removed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume lies on the side of the body that its name says.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>A volume reaches over more than one slice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Add '# energy_mv: ...' or give --start.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>Add a beam first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Add a line '# {key}: ...'.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>Add a line such as title = "Thorax".</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>Add a list named volumes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>Add beams first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>Add beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>Add it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/base/sources.py" />
      <source>Add the source.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>Aim at least one beam at the target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/projection.py" />
      <source>Ask for 1 to 2048 pixels a side, 200 to 5000 mm from the source, bone weight 0 to 5.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>Ask for the right to read it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>At the end of its range ({value:.3g} {unit}), so the start machine does not suit this beam: {what}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Beam {beam} asks for wedge {wanted}; {machine} has {wedge} of the same kind and angle, which stands in.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Beam {beam}: {misfit}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Beam's-eye view of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Beams have names of their own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>Beams keep to what their machine can do.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Box of four</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/margins.py" />
      <source>Bring both onto one image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>Bring depth doses and profiles.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outer.py" />
      <source>CT image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>CT number range</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/ct.py" />
      <source>CT numbers of shape {shape}, {dtype} do not fit the grid {wanted}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>CT numbers reach {top} HU, the density curve ends at {end:g} HU: its last density holds beyond (metal?).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>CT numbers reach {top} HU; the curve {curve!r} ends at {hu:g} HU.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/density.py" />
      <source>CT-number-to-density curve {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Centre the scan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>Change the number, or paint them by hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/rounds.py" />
      <source>Change the prescription or the normalisation.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <location filename="../../app/commands/export.py" />
      <source>Change weights or prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Check field, depth and axis, and that lengths are in mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Check isocentre, field and MU.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Check its permissions, or save a copy.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outer.py" />
      <source>Check the CT numbers.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/hand_check.py" />
      <source>Check the factors.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Check the file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>Check the folder and the free space.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>Check the folder and the space.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/silhouette.py" />
      <source>Check the isocentre.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <location filename="../../engine/dicom/headers.py" />
      <location filename="../../engine/store/case_file.py" />
      <source>Check the path.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>Choose a CT series.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/medium.py" />
      <source>Choose a dose grid over the patient.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>Choose a longer one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>Choose a place for it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>Choose a series of the same patient.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>Choose a start machine of that energy.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/derived.py" />
      <source>Choose a volume that does not stand on this one, or make one of them plain.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <location filename="../../engine/dose/wedge_effect.py" />
      <source>Choose a wedge the machine has, or none.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>Choose an MR, PET or CT series.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/wedge_effect.py" />
      <source>Choose another direction of the wedge.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>Choose another file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <location filename="../../engine/dicom/ct_files.py" />
      <location filename="../../engine/dicom/export.py" />
      <location filename="../../engine/store/case_file.py" />
      <source>Choose another folder.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Choose another name, or open it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Choose another name.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>Choose another plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/hand_check.py" />
      <source>Choose another point or field.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/tangents.py" />
      <source>Choose another set of beams.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Choose another structure set.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <location filename="../../engine/case/derived.py" />
      <source>Choose another.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <location filename="../../engine/dicom/second_image.py" />
      <source>Choose one of the series found there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <location filename="../../engine/volumes/shape.py" />
      <source>Choose one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>Choose or reconstruct a transverse series.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Choose the CT the plan was made on.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Choose the folder of a CT scan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>Choose the folder that holds the images.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Choose the set of this image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Choose the structure set drawn on this image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Choose the structure set of this image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>Choose the transverse CT series.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Choose the {called}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Close it first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Close it, or save a copy.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>Comparing volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/dose.py" />
      <location filename="../../engine/evaluation/live.py" />
      <source>Compute all beams on one grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Compute it again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>Compute it, look at it, then sign.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Compute the dose again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>Compute the dose of at least one beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Compute the fine dose before approval.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>Contamination stays that of the start: no depth dose has three points within 10 mm of the surface.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>Contouring, photon dose, plan review and sign-off.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/migrate.py" />
      <source>Copy it, open the copy.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <location filename="../../engine/dicom/frames.py" />
      <location filename="../../engine/dicom/one_series.py" />
      <location filename="../../engine/dicom/read_ct.py" />
      <location filename="../../engine/dicom/second_image.py" />
      <source>Copy or export it again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Copy or export the series again, or move that file away if it does not belong to it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Correct for the background.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>Correct it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>Correct its weight.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>Correct that line.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Correct that point.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>Correct the beam or choose another machine.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>Correct the bounds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <location filename="../../engine/commission/machine_check.py" />
      <source>Correct the file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Correct the header.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <location filename="../../engine/beams/machine_file.py" />
      <source>Correct the machine file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Correct the number.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Correct the structure set.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/density.py" />
      <source>Correct the table.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Correct the value.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>Correct the wedge in the machine file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>Cut at the image's edge: {sides}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>D({depth:g} mm)/D(100 mm), field {side:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>D, V, DC, CV, Mean, Max, Min or Median</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>DICOM CT into a new case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/calculate.py" />
      <source>Densities</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>Density overrides are meant.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/gather.py" />
      <source>Dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Dose to {report_to}; {words}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Dose under shut leaves {leaves:.2f} %, fluence under jaws {jaws:.2f} %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Dose-volume histogram</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>Enlarge the dose grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>Evaluated minus reference: {max_difference_gy:+.3f} Gy ({max_difference_percent:+.2f} % of the highest dose) at most, at x {x:g}, y {y:g}, z {z:g} mm; {mean_difference_gy:+.4f} Gy on average.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>Every beam has weight zero.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Every beam of an open-field plan shows the whole target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>Every goal is met, or its miss is answered.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Every region keeps its limit at {wanted:g} % of the points and more.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <location filename="../../engine/dicom/control_points.py" />
      <source>Export it again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Export it uncompressed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>Export it with its number of fractions.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the dose again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the dose as a volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the dose in Gy.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the dose on evenly spaced planes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the dose on planes along the patient's axes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Export the part that belongs together as a series of its own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>Export the physical dose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <location filename="../../engine/dicom/control_points.py" />
      <source>Export the plan again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>Export the plan with monitor units.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Export the plan with references to its boluses.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>Export the registration again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/frames.py" />
      <source>Export the series again, or as single-frame images.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>Export the series again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Export the series from the scanner or archive as single-frame images, one a slice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Export the structure set again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Export the whole series again from the scanner or archive.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Export them again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>Fill them in.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Find out whose images these are.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>Find the body outline first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Fitted {name} to {curves} curves, starting from {start}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Five, evenly spaced</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>Following the outlines</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>For example "Lung_L:V20Gy[%]".</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/demonstration.py" />
      <source>Free some space on the disk.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Free space or choose another folder.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Free space, then save.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>Gamma {dose_percent:g} % {kind} / {distance_mm:g} mm, from {threshold_percent:g} % of {reference_max_gy:.3f} Gy: {pass_percent:.2f} % of {judged} voxels pass, mean gamma {gamma_mean:.3f} (each counted as at most {gamma_ceiling:g}).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Give --start.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>Give 0 to 200 Gy in 1 to 100 fractions.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Give 1 to 36.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Give 2 to 15.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>Give a dose and a distance above 0 and a threshold from 0 to below 100 %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>Give each a name of its own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/segments.py" />
      <source>Give each a share above 0.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Give it as YYYY-MM-DD.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Give it as YYYY-MM-DDTHH:MM:SS.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/point.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>Give it one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>Give it two or more.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Give its structure set with --structures.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/margins.py" />
      <source>Give left, right, anterior, posterior, inferior, superior.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <source>Give one aperture for each of two or more angles.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Give plain, different names.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Give the CT they belong to.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Give the CT they were drawn on.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>Give the CT too.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Give the structure set of the plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/move.py" />
      <source>Give up to 500 mm and up to 180 degrees.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Goal ledger</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>Hardly told by these data, or only together with another, and so near the start: {what}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>Head scatter stays that of the start: output factors of three and more fields are needed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Highest dose ({gy:.2f} Gy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Highest dose in {volume} ({gy:.2f} Gy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>Highest dose {gy:.2f} Gy; {met} of {goals} goals met; {findings} findings.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>How contamination grows with the field stays that of the start: build-up of one field only.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Install the decoders with pip install "halfshade[codecs]", or export the series uncompressed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/kernels.py" />
      <source>Install the program again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Isocentre, {word}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>It does not say how its values are known. Add the key 'source'.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Keep one beam in one folder.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Keep one of them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>Keep the spectrum inside that range.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <location filename="../../engine/commission/measured.py" />
      <source>Known: {keys}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>Known: {known}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <location filename="../../engine/commission/measured.py" />
      <source>Leave it out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Lengths are in mm.{unit}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>Looking at {volume}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>Looking for the surfaces</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>Lower the number.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outer.py" />
      <source>Lower the threshold or check the CT numbers.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Make it first, or choose another.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>Make it the active draft and wait for its fine dose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>Make it wider.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/demonstration.py" />
      <source>Making the demonstration patient: {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Measure more points.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <location filename="../../engine/volumes/surface.py" />
      <source>Measuring from surface to surface</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>Mend them, or answer the warnings with a reason.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>Mend this draft first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>Modelled: {on}. Left out: {off}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Monitor units are in the range a machine delivers well.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Monitor units follow from the prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <source>Move the isocentre into the target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/sight.py" />
      <source>Move the isocentre.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Name a new file; nothing is overwritten.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>Name a new folder; nothing is overwritten.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Name one with --machine.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Name one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Name the RT Plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Name the folder that holds the measured curves.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>Names are unique, whatever the letter case (AAPM TG-263).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>Names have the form AAPM TG-263 asks for.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Nine, evenly spaced</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>No beam names the bolus {volume}; it counts for none.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>No body outline was given: all that the CT shows counts as it is, a couch too.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>No dose exceeds {limit:g} % of the prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>No dose has been computed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>No published value that was read applies to this beam, so nothing here validates it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>No volume has the role EXTERNAL; the air counts as matter.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>No volume is there twice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Normalisation is None: monitor units come from the weights alone, not from the prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>Note: this file holds the {words}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>OUTSIDE</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>Off-axis fluence, softening, focal spot and transmission stay those of the start: no profiles.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>One beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Only beams with one wedge that stays in place are computed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>Only drafts on the same image can be added.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>Only drafts with beams, prescription and dose can be added.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>Only open or wedged photon beams are computed: still, of several apertures, or arcs.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>Only plans of one fraction group are computed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>Only the quick dose is there; it cannot be signed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Open a *.halfshade file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Open a copy of it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <location filename="../../engine/store/codec.py" />
      <source>Open a copy of the case.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>Open each of them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>Open the planning CT from DICOM files.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>Open the right registration by hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/intake.py" />
      <source>Opened {description}: {planes} slices of {rows} × {columns} pixels.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Opposed, anterior and posterior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Opposed, lateral</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Outside most: {name} ({what}): {regions}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>PDD({depth:g} mm), field {side:g} mm (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>PDD20/PDD10</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <source>Paint it and give it the role BOLUS.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/collimator.py" />
      <location filename="../../engine/beams/shield.py" />
      <source>Paint it first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Paint or import volumes before the export.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <location filename="../../engine/beams/conform.py" />
      <source>Paint the target first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>Paint the volumes first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/tangents.py" />
      <source>Paint them first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Penumbra 80-20 % (mm), along X / along Y</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Photons on the axis: mean energy {energy:.2f} MeV, half-value layer {layer:.0f} mm of water.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/demonstration.py" />
      <source>Placing beam {i}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Positions are in mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Positions are in mm; are these in cm?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Positions count from the axis.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>Prescribe a dose to a volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>Prescribe to another volume.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>Problem: {problem}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>Put it beside the machine file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Put one CSV file per curve there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>Put the DICOM Spatial Registration of the two beside it, or open it by hand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/start.py" />
      <source>Qt's window plug-in needs system libraries that are missing: {number} of them. On Debian or Ubuntu: sudo apt install {missing}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>RD: does not refer to this plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>RP: does not refer to this structure set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>RP: prescribes to a region that does not exist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>RS: refers to an image slice that does not exist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>RT DICOM out of a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>RT Dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>RT Dose to write, Gy over all fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>RT Plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>RT Plan with static photon beams and monitor units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>RT Structure Set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>RT Structure Set: body outline, supports, density overrides</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/terma.py" />
      <source>Rays</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>Read both onto one image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Reconstruct the series with one spacing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>Register rigidly, or export a rigid registration.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/fan.py" />
      <location filename="../../engine/dose/terma.py" />
      <source>Released energy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Remove one of them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>Remove the copy, or export one phase, echo or time of the series only.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>Remove the goal.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/demonstration.py" />
      <source>Report this as a bug.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Report this: it is a fault here.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/caution.py" />
      <source>Research and education. Not a medical device. Every plan must be checked by qualified, licensed staff under local rules before it is used for anything.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>SOP class {sop_class} is not one that is written here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>Save a copy elsewhere.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Save a copy to work on it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Save it as UTF-8.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>Save the case first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>Say which it is: {positions}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>Say which one by its series UID.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>Scan or reconstruct without tilt.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/frames.py" />
      <source>Set it at intake.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Seven, evenly spaced</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>Several isocentres in one plan are meant and labelled.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>Several volumes have the role EXTERNAL: {names}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Sides are in mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Sides are in mm; are these in cm?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>Sign again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <location filename="../../engine/dicom/plan_file.py" />
      <source>Sign the plan first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>Slice that covers {target} least (D98 there {gy:.2f} Gy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>Softening stays that of the start: wide profiles at a shallow and a deep place are needed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Sort the points by position.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Source of its values: {source}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Spectrum: mean energy {e1:.2f} -&gt; {e2:.2f} MeV, half-value layer in water {h1:.0f} -&gt; {h2:.0f} mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_head.py" />
      <source>Synthetic: like an MR (demonstration)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>THE MODEL DOES NOT KEEP THE LIMITS: {regions}. Do not use it; check the data and the start machine.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>TPR20,10</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>TPR20,10 less 1.2661 PDD20,10 - 0.0595</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>Take it off the beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>The CT was taken {patient_position}, the plan is for {wanted}; the plan's position counts.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>The area of a volume changes smoothly from slice to slice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The beam model is the one in use now.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>The beams give no dose to {where}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The beams of {draft} have {count} isocentres.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>The body touches the {cut} edge of the image: anatomy may be cut off.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>The chain is intact (records: {records}). {last}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>The chain of records is broken: {reason}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The density curve spans the CT numbers (metal?).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>The dose calculation was changed since it was sealed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The dose grid covers every volume that is judged.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <source>The dose grid holds the isocentre, and all of the body that the beams pass.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The dose grid is {limit:g} mm or finer for such a target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>The dose grid is {spacing:g} mm fine because a field is that narrow.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The dose is normalised at {point}, outside {target}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The dose is the fine dose of exactly this plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The dose was computed for something else: image, volumes, beams, machine or grid changed since.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>The doses name different frames of reference; they were compared at equal coordinates.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>The doses name different patients: {one!r} and {other!r}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>The focal spot along {axis} stays that of the start: no profile resolves an edge there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>The head of the machine keeps {near:.0f} mm from body and couch; their sizes are not verified.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The highest dose ({gy:.2f} Gy) lies outside {target}, at x {x:.0f}, y {y:.0f}, z {z:.0f} mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The highest dose is {gy:.2f} Gy ({percent:.1f} % of the prescription).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The highest dose lies in the target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The isocentre lies inside the body.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The isocentre of {beam} lies outside the image.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The isocentre of {beam} lies outside {body}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <source>The isocentre of {beam}, at x {x:.0f}, y {y:.0f}, z {z:.0f} mm, lies beyond the dose grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>The limits are kept, but with values at the end of their range: look for a start machine that suits.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>The lines a volume came in with do not cross, so that its inside is clear.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The patient's name or number is missing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>The plan asks for {asked}; {machine} gives {energy}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>The plan asks for {mv:g} MV; {machine} gives {nominal_mv:g} MV.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The plan belongs to a patient who is named and numbered.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/export.py" />
      <source>The plan leaves as {status}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>The plan was changed since it was sealed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>The plan's source-axis distance is {sad_mm:g} mm, that of {machine} {own_mm:g} mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>The point {point} lies outside the dose grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>The prescribed volume is empty or lies outside the dose grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The prescribed volume is missing or empty.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>The prescription can be reached.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>The prescription refers to {target}, whose role is {role}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>The present plan is the sealed one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>The reference is the {one}, the evaluated the {other}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_handover.py" />
      <source>The release by {who} lapsed: changed since then {names}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>The scan reaches beyond a volume, so that nothing of it is missing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>The spectrum stays that of the start: no depth dose reaches 150 mm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_handover.py" />
      <source>The volumes were not released for planning.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>The width of head scatter stays that of the start: five fields from 80 to 150 mm are needed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>There are {volumes}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>There is no isocentre to normalise at.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>There is no point to normalise at.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>There is no prescription to normalise to.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/start.py" />
      <source>There is no screen to open a window on (neither DISPLAY nor WAYLAND_DISPLAY is set). Start from a desktop session, or use a subcommand: halfshade --help.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>There is one body outline and the image holds all of it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>This case holds no record.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>This is a synthetic demonstration patient, nobody real.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>Three beams, anterior and posterior obliques</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/collapse.py" />
      <source>Transport</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>Try another disk.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/evidence.py" />
      <source>Two organs share space only where one is part of the other; couch and bolus share none with what lies in the body, the couch none with the body, and a region to be spared none with a target.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>Type a percentage in that range.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <source>Type another name.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>Type it again, or sign under your own name.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>Unusual: {warning}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/codec.py" />
      <source>Update Halfshade.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/migrate.py" />
      <source>Update the program to open it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <location filename="../../engine/beams/beam.py" />
      <source>Use CW or CC.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>Use at most 64 characters and no backslash.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>Use contours drawn on this image's planes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>Use one of {names}, or a .toml file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <location filename="../../engine/phantoms/catalogue.py" />
      <source>Use one of {names}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>Use one of {shipped_machines}, or a .toml file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Use only {keys}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/shield.py" />
      <source>Use the jaws.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Use {known}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>Use {names}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>Use {positions}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>Wait until it is made again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>Where a target overlaps an organ with a goal, the physician knows which demand gives way.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/rounds.py" />
      <source>Widen the bounds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>Without a subcommand: halfshade [CASE.halfshade or DICOM folder] opens the window.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Write '100' or '100 x 50'.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>Write a goal, or tick one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Write a line such as {key} = "…".</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Write a number.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Write each below a line [[goals]].</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>Write it like D95%[Gy], D0.1cc[Gy], V20Gy[%], V95%[%], Mean[Gy] or Max[Gy].</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>Write it like {key} = "{sign}57 {unit}".</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>Write it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>Write one number for each, apart by spaces.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Write sides from 10 to {largest:g} mm with commas between.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <location filename="../../engine/dicom/structure_file.py" />
      <source>Write the CT files first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Write two numbers with a decimal point, separated by a comma.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Write {columns!r} and the points below.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>Write {columns!r} before the points.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>Wrote {curves} curves and {plots} plots to {out}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>Wrote {out}, its spectrum beside it, and {plots} plots.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>Wrote {out}: {beams} beams, highest dose {gy:.3f} Gy at x {x:g}, y {y:g}, z {z:g} mm, to {report_to}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/intake.py" />
      <source>Wrote {path} with the body outline ({volume_cm3:.0f} cm³).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/export.py" />
      <source>Wrote {p}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/ct.py" />
      <source>a CT image needs one SOP Instance UID per plane</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/ball.py" />
      <source>a ball of radius {radius} mm cannot be painted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <location filename="../../engine/beams/limits.py" />
      <source>a beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>a beam has no {axis} jaws; the leaves' reach of {low:g} to {high:g} mm stands in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>a beam without flattening filter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>a bracket with the unit of the answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>a brush needs a positive radius, not {rr} × {rc} pixels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>a brush stroke has a point that is not a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>a case file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>a contour holds something that is not a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>a contour is no list of x, y, z</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>a contour says it has {said} points and has {size}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>a contour's number of points is wrong</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>a cumulative weight of {weight:g} is not between 0 and 1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>a decision is {yes} or {no}, not {decision!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/volume.py" />
      <source>a density of {density_g_cm3} g/cm³ is not between 0 and 25</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>a depth of {depth:g} mm is in no tank</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>a difference of doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>a distance of {mm:g} mm to the skin is not between 0 and 100 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>a dose grid of {dose_spacing_mm} mm is not between 1 and 10 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>a field of {high:g} mm is not credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/hand_check.py" />
      <source>a field of {side_mm:.0f} mm at {depth_mm:.0f} mm depth is outside the tables of {low:.0f} to {high:.0f} mm fields, {shallow:.0f} to {deep:.0f} mm deep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/tank.py" />
      <source>a field of {x:g} × {y:g} mm is larger than {limit:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>a field of {x:g} × {y:g} mm is not credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>a flattened beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>a focal spot of 0 to 20 mm and a leaf gap of 0 to 50 mm are credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <source>a gantry cannot turn {rotation!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>a generalised EUD needs an exponent other than {a}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goals.py" />
      <source>a goal compares with ≤ (&lt;=) or ≥ (&gt;=), not {comparator!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goals.py" />
      <source>a goal's tolerance is not negative and its priority is 1, 2 or 3</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/grid.py" />
      <source>a grid needs at least one voxel along each axis, not {shape}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/grid.py" />
      <source>a grid needs positive spacing and a finite origin, not {spacing_mm}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>a grid of {grid_mm} mm is not between 1 and 10 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>a half width of {found:.1f} does not fit a field edge at {nominal:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>a head 100 mm or more from the isocentre with a radius of 50 to 1000 mm, and a couch 100 to 1000 mm wide and 1 to 500 mm thick are credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>a leaf reaches {over:.0f} mm across the axis; {machine} lets it reach {travel:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_text.py" />
      <source>a machine file cannot hold {value!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_text.py" />
      <source>a machine file cannot hold {value}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>a machine file, or the name of a machine that comes along</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>a machine that comes with the program, or a machine file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/shield.py" />
      <source>a margin of {margin_mm} mm is not between 0 and 50 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <source>a margin of {margin_mm} mm is not between −50 and 100 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <source>a margin of {margin_mm} mm leaves nothing of the target</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>a mask of shape {shape} does not fit the slice {wanted}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>a matrix called rigid mirrors the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>a matrix called rigid stretches or shears (by {error:.4f})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>a matrix does not hold 16 numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>a number up to 100</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>a paint value of {value} is not between 0 and 255</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/libraries.py" />
      <source>a part of the program is missing ({error}). Install it again: pip install --force-reinstall halfshade.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>a passphrase needs at least {min_passphrase} characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/summing.py" />
      <source>a plane lies across x, y or z, not {axis!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/point.py" />
      <source>a point has a name of 1 to 64 characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>a point of it lies {far:.3g} m away from the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>a polygon has a point that is not a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>a priority is 1 (must), 2 or 3 (wish)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/projection.py" />
      <source>a radiograph of {size_mm} mm with pixels of {pixel_mm} mm at {sad_mm} mm is not possible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>a record needs the reviewer's name and role</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>a region has no number (3006,0022)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>a release needs a time as ISO 8601 writes it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>a release needs the physician's name, up to 64 characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>a ring of {width_mm:g} mm has no width</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/second_image.py" />
      <source>a second image needs 12 numbers that place its voxels and 16 that move it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>a separate piece of {cm3:.3f} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>a set holds 1 to {most} goals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>a set holds 1 to {most} volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>a set of goals to be judged, as the goal ledger saves it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>a set of volumes needs a title</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>a smaller number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/stack.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>a smoothing width of {width_mm} mm is not between 0 and 20 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/base/sources.py" />
      <source>a source needs a title and a 'known' out of {known}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>a source-axis distance of {sad_mm} mm is not credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <source>a spacing of {spacing:g} degrees is not between 0.1 and 180</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>a spectrum needs one weight per energy, none negative, not all zero</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>a spectrum needs the columns E_low_MeV, E_high_MeV and relative_fluence</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>a sum needs at least two drafts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/dose.py" />
      <source>a sum of doses needs at least one dose and one factor for each</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>a tolerance of {mm:g} mm is not between 0 and 50 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>a unit ({units})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>a value cannot be written to DICOM ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/derived.py" />
      <source>a volume it is to follow is no longer in the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>a volume lies on another grid than the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>a volume of the set has no name of 1 to 64 characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>a volume that is gone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/volume.py" />
      <source>a volume's name needs 1 to 64 characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/move.py" />
      <source>a way of {way} mm and turns of {turns} degrees are out of range</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>a wedge lacks the key {key!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>added filtration, aluminium</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>adding up the courses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>after</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/optimise/rounds.py" />
      <source>after {count} rounds</source>
      <extracomment>Of one: after {count} round</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>all its contours lie in one plane, so their thickness is unknown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>also write curves (CSV, in the format of measured data) and plots (PNG)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>an alpha/beta of {gy:g} Gy is not between 0.1 and 100 Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>an angle of {angle:g} is not a wedge's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>an approved plan needs a reviewer and a date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>an approved plan needs the reviewer's name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/coverage.py" />
      <source>an array of shape {shape} does not fit the grid {wanted}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/draft_edits.py" />
      <source>an isodose level lies above 0 and up to 200 %</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>an item holds no matrix</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>an object without a SOP class</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>an unknown kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <source>another point is named {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>another program holds the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>another window is writing here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>anterior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/objective.py" />
      <source>any dose meets it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>aperture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>approval</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/libraries.py" />
      <source>apt-get install {package}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <source>arc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conformal_arc.py" />
      <source>arc of {beam}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/codec.py" />
      <source>array {digest} is damaged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>at character {at} {expected} was expected</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>at its end {expected} was expected</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>at the end is {last}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>at the end of its range</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>attenuation at 8 degrees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>axial</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <location filename="../../engine/review/checks_volumes.py" />
      <source>back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>back-scatter to the monitor</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine.py" />
      <source>beam data of a machine computed in water, as tables and plots</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>beam data of a machine, its file, and a model fitted to measurements</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <location filename="../../engine/beams/beam.py" />
      <location filename="../../engine/beams/collimator.py" />
      <location filename="../../engine/beams/conform.py" />
      <location filename="../../engine/beams/limits.py" />
      <location filename="../../engine/beams/parts.py" />
      <location filename="../../engine/beams/segments.py" />
      <location filename="../../engine/beams/shield.py" />
      <location filename="../../engine/beams/silhouette.py" />
      <location filename="../../engine/case/case.py" />
      <location filename="../../engine/dicom/beam_devices.py" />
      <location filename="../../engine/dicom/plan_file.py" />
      <location filename="../../engine/dose/wedge_effect.py" />
      <source>beam {beam}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <location filename="../../engine/dose/sight.py" />
      <source>beam {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>beam {name} is for {delivery}; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>beam {name} is not part of the fraction group; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>beam {number} has {count} control points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>beam {number}: jaw and leaf positions do not fit their devices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>beam {number}: leaf boundaries do not fit the leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>beam {number}: {keyword} is missing at the first control point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>before</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>beyond the maximum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>birth date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>block</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <location filename="../../engine/volumes/outer.py" />
      <source>body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>bone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/ball.py" />
      <location filename="../../engine/volumes/paint.py" />
      <source>brush</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>build-up</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_pelvis.py" />
      <source>building muscles and bones</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_head.py" />
      <source>building skull and face</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_head.py" />
      <source>building the brain</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_thorax.py" />
      <source>building the chest wall</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_thorax.py" />
      <source>building the lungs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_pelvis.py" />
      <location filename="../../engine/phantoms/patient_thorax.py" />
      <source>building the organs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_head.py" />
      <source>building the supports</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_thorax.py" />
      <source>building the tumour</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>calibration (Gy/MU)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <location filename="../../engine/dicom/export.py" />
      <source>case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>case file or DICOM folder to open</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>check</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/ask.py" />
      <source>checking the plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>checking what was written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/patient_head.py" />
      <location filename="../../engine/phantoms/patient_pelvis.py" />
      <location filename="../../engine/phantoms/patient_thorax.py" />
      <source>collecting the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/collimator.py" />
      <location filename="../../engine/dicom/control_points.py" />
      <source>collimator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>collimator angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>common practice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>comparing doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <source>comparison</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>compensator</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <source>compute a missing dose first instead of reporting it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_files.py" />
      <source>computed numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/indices.py" />
      <source>conformity needs an isodose above zero</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>contaminant electrons must start above the isocentre and end within 200 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>contamination</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <location filename="../../engine/commission/parameters.py" />
      <source>contamination at the surface</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/codec.py" />
      <source>content {fingerprint} ({kind}) is damaged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>content {fingerprint} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>contour {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>contours of a region that is not listed were left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>control point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>converting to EQD2</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/tidy.py" />
      <source>copy slice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>coronal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <location filename="../../engine/review/checks_beams.py" />
      <location filename="../../engine/volumes/outer.py" />
      <source>couch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>couch angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/coverage.py" />
      <source>coverage tiles must be one per plane, ascending, inside the grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>curves of {energies} MV are mixed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>decision</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/demonstration.py" />
      <source>demonstration patient {phantom}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>depth doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>depth of contamination</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>depth of contamination (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>depth of the maximum, field {side:g} mm (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>distance criterion (2 mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>distance from source to axis (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <location filename="../../engine/dicom/export.py" />
      <source>dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>dose criterion (2 %%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>dose criterion of each voxel's own dose instead of the highest dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>dose method</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>dose of a plan, absolute Gy over all fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of a single fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of a treatment record</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of a whole plan, all fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of brachytherapy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of brachytherapy in a single fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of one fraction group</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of one or more beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of one or more beams in a single fraction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of several plans together, all fractions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/dose.py" />
      <source>dose of shape {shape}, {dtype} does not fit the grid {wanted}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose of some control points of a beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>dose summed in an unknown way ({summation})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>dose to medium or dose to water (medium)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>dose under leaves at 100 mm (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>doses and volumes of a dose on a structure set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>doses are of the {covered:.1f} % of the volume inside the dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/dose.py" />
      <location filename="../../engine/evaluation/live.py" />
      <source>doses on different grids cannot be summed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <location filename="../../app/commands/dose.py" />
      <location filename="../../app/commands/export.py" />
      <location filename="../../engine/dicom/export.py" />
      <location filename="../../engine/dicom/plan_file.py" />
      <source>draft {draft}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>drawing the pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/tidy.py" />
      <source>dropping islands</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>e.g. "Lung_L:V20Gy[%%]"</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>each beam needs a weight and a dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>each beam needs one weight that is not negative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>effective</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>energies, relative to the start</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>energy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>energy {low:g} to {high:g} MeV</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/ask.py" />
      <source>evaluating the plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>every value is zero</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>expected</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>export</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>field sides of {low:g} to {high:g} mm are not credible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/tank.py" />
      <source>field {x:g} × {y:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>field_mm is {text!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>fields {text!r} cannot be used</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/stack.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>filling holes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/between.py" />
      <source>filling slices between</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>filling {roi}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/pieces.py" />
      <source>finding pieces</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>findings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>findings of a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine.py" />
      <source>fit a beam model to measured depth doses, profiles and output factors</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>fitted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>flatness at {depth:g} mm, field {side:g} mm (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>fluence at 150 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>fluence at {radius:g} mm, logarithm of the change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>fluence under jaws (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>focal spot</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>focal spot X (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>focal spot Y (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>focal spot along {axis}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>folder for the results; must be empty or new</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>folder of measured curves (CSV, see below)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/intake.py" />
      <source>folder with the CT, in sub-folders or mixed with other files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>folder with the planning CT, with --plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <source>foot</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>for metrics and indices in percent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>found</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>frame of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>frames of reference differ from the image's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <location filename="../../engine/review/checks_volumes.py" />
      <source>front</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>gamma</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>gamma and differences of two doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>gamma with {dose_percent:g} %, {distance_mm:g} mm, threshold {threshold_percent:g} % is not possible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>gantry angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>gantry pitch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>global</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>goal {metric}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>growing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>half width of the leaf bank over the field limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>half-value layer in water (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>hardly told</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <source>head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>head scatter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>high dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>highest photon energy over nominal potential (MeV/MV)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>hold them against published values: expected and found</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/volumes/quality.py" />
      <source>holes in {count} slices, the largest {largest:.2f} cm²</source>
      <extracomment>Of one: holes in {count} slice, the largest {largest:.2f} cm²</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>image orientation (0020,0037)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>image position (0020,0032)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>image size</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>in {units}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>incomplete repair needs at least one fraction a day and positive times</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>inferior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine.py" />
      <source>is a machine file right, and is anything in it unusual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>is the chain intact, and is the present plan the sealed one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it belongs to another frame of reference than the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>it belongs to another patient: {theirs}; the planning CT is of {ours}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>it cannot be read ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>it cannot be read ({reason})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it cannot be read as text ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>it cannot be written ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>it carries a {words}, which is not computed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>it carries an applicator, which is not computed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>it carries {count} boluses, and {found} are named</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>it carries {count} wedges, and {found} are described</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it does not cross the axis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>it does not fit the volumes it is derived from yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>it does not follow the record before it; one was removed, added or changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>it exists already</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>it exists and is not an empty folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>it has no beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>it has no beams, so there is no plan to write</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>it has no dose yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/tank.py" />
      <source>it has no leaves to form a field</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>it has no name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/parts.py" />
      <source>it has no opening {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>it has no prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/demonstration.py" />
      <source>it has no volume named {target!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>it has one control point, and two are the least</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>it has {count} control points, and two are the least</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>it has {count} fraction groups</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>it has {count} leaf pairs from {low:g} to {high:g} mm, {machine} has {known}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>it holds a single slice, and one slice has no known thickness</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>it holds fewer than two slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it holds no closed contours</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it holds no measured curves (*.csv)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it holds no points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it holds no regions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>it holds no treatment beam</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>it holds no volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>it holds only localizer pictures</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it holds {count} point, which is no curve</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it holds {count} points; a {kind} needs {least}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>it is a brachytherapy plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>it is a single plane, and one plane has no known thickness</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/segments.py" />
      <source>it is an arc and has no segments</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>it is an arc without control points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>it is made from {count} different volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>it is no .toml file in a folder that exists</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <location filename="../../engine/volumes/sets.py" />
      <source>it is no TOML: {error}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/objective.py" />
      <source>it is no dose-volume metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <source>it is no painted volume of role BOLUS</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>it is not a CT series but {kind} ({name})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>it is relative to the prescription, and there is none</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>it is signed under a known name with another passphrase</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>it is the same place as {name}: {share:.1f} % alike</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>it is tilted: z runs from {low:.2f} to {high:.2f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>it is {found:.1f} mm wide, but the field is {nominal:.1f} mm there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>it is {modality} ({name}), no MR, PET or CT images</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>it lies at z = {z:.2f} mm, {worst:.2f} mm from the nearest image plane at {z_plane:.2f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it lies beside the image or holds no area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>it lies on another grid than the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it lies wholly above or below the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>it must grow thicker from toe to heel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>it must let less through from toe to heel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>it names a bolus that is no longer in the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>it needs a second volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/density.py" />
      <source>it needs at least two points, each with a CT number and a density</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>it needs the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>it needs two positions or more, with a thickness each (physical) or a transmission each (virtual)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <location filename="../../engine/volumes/shape.py" />
      <source>it needs {wanted} numbers, not {count}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>it registers no frame of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>it registers one frame of reference twice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>it shares {cm3:.2f} cm³ with {name}</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/volumes/quality.py" />
      <source>it touches both ends of the scan and may go on beyond</source>
      <extracomment>Of one: it touches an end of the scan and may go on beyond</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>it was drawn on another series of the same frame of reference; see that it fits the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/density.py" />
      <source>its CT numbers must ascend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its aperture is shaped by {odd}, which is not computed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>its bolus is {volume}, whose role is {role}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>its bolus, ROI {number}, is not in the structure set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>its contours do not lie on evenly spaced planes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>its decay correction is {correction}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/density.py" />
      <source>its densities must lie in 0 to 25 g/cm³ and never fall</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its dose grid scaling (3004,000E) is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>its dose is only a quick one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>its dose is out of date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its dose is {shown}, not physical dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its doses are {shown}, not in Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its field limits must lie in 0 to 500 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>its files carry no series UID (0020,000E)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>its files differ in {what}: {odd} has {this}, most have {usual}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>its files name different patients: {first}; and {second}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>its frame of reference is not that of the planning CT, and no registration between the two is known</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>its gantry angle and aperture are not those of its first control point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its gantry angle changes from {a:g} to {b:g} without saying which way it turns</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>its gantry cannot turn {rotation!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>its gantry turns from control point to control point, but it does not say which way</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its gantry turns one way and then the other</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its gantry turns, but the file does not say how far</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its isocentre moves while it delivers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/segments.py" />
      <source>its jaws or leaves move while it delivers, so it has no segments</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its kind {kind!r} is neither physical nor virtual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>its meterset is in {unit}, not in monitor units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its meterset weight {what}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its meterset weights run from {first} to {last}, final {final}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>its middle lies {centre:+.1f} mm off the axis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>its modality is {modality}, not CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>its monitor units (300A,0086) are missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its name needs 1 to 16 characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>its number of fractions is {shown}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>its orientation is no pair of perpendicular units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its orientations must be out of 0, 90, 180 and 270</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>its patient position is {positions}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its pixel spacing is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/point.py" />
      <source>its place is not three numbers within 10 m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its plane offsets neither rise nor fall throughout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its plane offsets start at {offsets:g}, neither 0 nor the position's z</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its planes are oblique</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its planes are unevenly spaced ({low:g} to {high:g} mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>its planes are {kind}, not transverse</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>its points are not finite (x, y, z) triples</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>its points are up to {far:.3g} m apart</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its position or orientation is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its positions must ascend from toe to heel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>its radiation is {radiation}, not photons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>its regions lie in several frames of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>its signature does not fit its content; it was changed after signing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>its slices are shifted sideways by up to {sideways:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>its slices are unevenly spaced: {gap:.3f} mm between {low:.1f} and {high:.1f} mm, elsewhere {usual:.3f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>its slices do not stand in line: one is off by {off:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its thicknesses must lie in 0 to 200 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>its transform is {kind}, not rigid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>its transmission must lie in 0.001 to 10</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>its units are {units}, not Bq/ml</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>its values cannot be read ({first})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/objective.py" />
      <source>its volume is empty or lies outside the dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/second_image.py" />
      <source>its voxels have no extent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>its wedge is {kind}, which is not computed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>its wedge moves in or out while it delivers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>its weight falls at control point {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>its weights run from {first:g} to {last:g}, not from 0 to 1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its {axis} jaw positions are missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its {missing} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its {part} turns while it delivers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its {words} changes from {a:g} to {b:g}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>its {words} is {angle:g} degrees, which is not computed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>jaws cross: X {x_mm}, Y {y_mm} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>judge from this share of the highest dose (10 %%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>leaf end offset</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>leaf end offset (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>leaf pair {pair} leaves {gap:.1f} mm; {machine} needs {least:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>leaf pairs and leaf boundaries do not match</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>leaves of one bank are {span:.0f} mm apart; {machine} allows {most:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_text.py" />
      <source>leaves that are not centred on the axis cannot be written to a machine file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>leaves.widths must be a list of [count, width]</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <location filename="../../engine/review/checks_volumes.py" />
      <location filename="../../engine/volumes/extent.py" />
      <source>left</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n} is {first!r} where the column names are due</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n}: the positions turn back at {position:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n}: the value {value:g} is negative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n}: unknown key {key!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n}: {line!r} is no finite number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>line {n}: {line!r} is not a position and a value</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>local</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>looking for necks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>looking for the highest doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>low-dose tail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>lungs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>machine file by name or path (the plan's own machine name)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>machine to start from (generic of the same energy)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <location filename="../../engine/commission/tank.py" />
      <source>machine {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/margins.py" />
      <source>margin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/margins.py" />
      <source>margins {margins_mm} are not six numbers between 0 and {max_margin_mm:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>mean energy by energy fluence (MeV)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>mean photon energy (MeV)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>mean photon energy over nominal potential (MeV/MV)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>mean {gy:.2f} Gy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>measured data</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goals.py" />
      <source>met</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>metric</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>metric {text!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goals.py" />
      <source>missed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <location filename="../../engine/dicom/plan.py" />
      <location filename="../../engine/dicom/stacking.py" />
      <location filename="../../engine/dicom/uptake.py" />
      <source>missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/hand_check.py" />
      <source>monitor units by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/move.py" />
      <source>move</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/move.py" />
      <source>moving</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>no beam gives dose anywhere in the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>no curve says its energy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/hand_check.py" />
      <source>no monitor units follow from {dose_gy} Gy at {gy_per_mu} Gy/MU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <location filename="../../engine/dicom/second_image.py" />
      <source>no name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/dvh.py" />
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>no part of the volume lies inside the dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>no physics tables fit {material!r} of {density:g} g/cm³; known are iron, aluminium and tungsten</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>no such photon process; known are {processes}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/demonstration.py" />
      <source>no temporary folder can be made ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outer.py" />
      <source>no tissue above {threshold_hu:g} HU is thicker than {opening_mm:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>no two lungs are seen below {number:g} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>no unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>no volume can follow another by {what!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>no voxel above the threshold lies inside the evaluated grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/rounds.py" />
      <source>no weights were found that serve these goals better than those there are</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <location filename="../../engine/dicom/one_series.py" />
      <source>none</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>none of its volumes fits the image ({refused})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>normalisation {normalisation!r} is not one of {normalisations}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <location filename="../../engine/evaluation/live.py" />
      <source>not judged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>not named</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>not said</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <source>note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>nothing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>nothing but an ideal source</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outer.py" />
      <source>nothing in it is denser than {threshold_hu:g} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>nothing in the files says that both are of the same patient; make sure of it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>nothing inside the body is denser than {number:g} HU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>nothing is painted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>nothing more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>nothing said</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>number of columns (0028,0011)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>number of rows (0028,0010)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>oblique</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>of control point {n} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>of no stated kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>of no stated type</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>off-axis attenuation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <location filename="../../engine/commission/machine_check.py" />
      <source>off-axis fluence</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>off-axis fluence ends at {reach:g} mm, before field corners at {corner:.0f} mm; constant beyond.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>off-axis softening</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>off-axis softening, relative to the start</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/objective.py" />
      <source>only no dose at all would meet it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>only one slice is painted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_files.py" />
      <source>only whole MR intensities that are not negative are written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>only {covered:.1f} % of the volume lies inside the dose grid</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>opposed leaves cross</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <location filename="../../engine/dicom/one_series.py" />
      <source>orientation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>out of {names} (thorax)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structure_file.py" />
      <source>outlining {volume}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>output at the maximum, field {side:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>output factor</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>output factors</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>output in air, field {side:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/forward.py" />
      <source>output of {side:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>overlaps</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>parameter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>patient position</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/frames.py" />
      <source>patient position {patient_position!r} is not one of {positions}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>patient position {position} is not read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>patient's name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/judge.py" />
      <source>penumbra</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>penumbra 80-20 % along X at {depth:g} mm, field {side:g} mm (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>phantom scatter factor at 100 mm, field {side:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>photon and electron tables cover {low} to {high} MeV</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>pixel spacing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>pixel spacing (0028,0030)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>pixels are compressed as {uid} and no decoder is installed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>pixels in {uid} cannot be read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>plan and CT have different frames of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>plausible</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <location filename="../../engine/space/point.py" />
      <source>point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/point.py" />
      <source>point {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>points within the limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/paint.py" />
      <source>polygon</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>position {position:g} mm comes twice, in lines {first} and {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>posterior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>processor cores to use (all)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>profiles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/projection.py" />
      <location filename="../../engine/image/quick_view.py" />
      <source>radiograph</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>reading doses</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>reading doses in the volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>reading headers, {i} of {count}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>reading slices, {done} of {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>reading slices, {k} of {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/derived.py" />
      <location filename="../../engine/volumes/recipe.py" />
      <source>recipe</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>record {number} ({reviewer}, {signed_at})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>relative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>repopulation needs a dose, days and a loss a day that are not negative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>rescale intercept (0028,1052)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>rescale slope (0028,1053)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <location filename="../../engine/review/checks_volumes.py" />
      <location filename="../../engine/volumes/extent.py" />
      <source>right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>ring</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>ring of {last:g} mm, {first:g} mm around {a}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>ring of {last:g} mm, {first:g} mm around {a}, inside {b}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/volume.py" />
      <source>role {role!r} is not one of {roles}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>sagittal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>sagittal or coronal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/finish.py" />
      <source>scanning</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/libraries.py" />
      <source>search it with apt-file search {found}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>series {where!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>several registrations differ ({names})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/finding.py" />
      <source>severity {severity!r} is not one of {severities}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <location filename="../../engine/commission/parameters.py" />
      <source>share of head scatter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>sides of square fields (40 to 400 mm as far as it goes)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>slices carry different rescales; each got its own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>slices shift sideways by {off_normal:.1f} mm over the stack</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/tidy.py" />
      <source>slices {from_plane} and {to_plane} are not both in the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/stack.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>smooth</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/stack.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>smoothing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>some of its values are no numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>spacing of the dose grid, 1 to 10 (2.5; finer for fields below 20 mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>spatial registration</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>spectrum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>spread of contamination</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>start</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <source>stop</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>stopped at {most:.0f} cm³ and would have gone on</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>stopped {reach:.0f} mm from the place pressed and would have gone on</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>stopped; nothing half-written is left.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>study date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>sum of {names} and {last}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/extent.py" />
      <source>superior</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shell.py" />
      <source>surface</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/published.py" />
      <source>surface dose, field {side:g} mm (%)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>table pitch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>table roll</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>table-top eccentric angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/tangents.py" />
      <source>tangential beams need a target and a body outline</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/demonstration.py" />
      <source>the CT read back differs from the one written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>the CT the volumes were painted on (else its planes are taken from them)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>the LKB model needs a positive TD50 and m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>the Poisson model needs a positive alpha and cells that are not negative</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>the area is {here:.1f} cm² between slices of {below:.1f} and {above:.1f} cm²</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>the beams give no dose</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>the body lies on another grid than the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>the body weight is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>the body's outline is empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>the boundaries of the leaves do not ascend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the calibration needs a depth of 0 to 300 mm, a distance of 500 to 2000 mm, a field the machine can open, and 0.0001 to 0.1 Gy per MU</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>the case could not be kept ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>the case does not hold machine {machine!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the case file is damaged ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>the case holds no draft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the case holds no revision</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>the closing bracket</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>the colour of {name} is not three numbers from 0 to 255</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>the curves are of {energy:g} MV, the start machine {name} of {mv:g} MV</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the disk is full; nothing of the case was lost</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>the dose falls to {percent:.0f} % within {depth:g} mm, which no photon beam does</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/medium.py" />
      <source>the dose grid lies outside the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>the dose grids of the courses have no place in common</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>the dose holds negative values or values that are no numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>the dose is only a quick one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>the dose lies outside the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>the dose read back differs from what was written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>the dose reference {name} has no usable coordinates; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>the dose that is judged; interpolated</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>the dose that is taken as true</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>the draft has no beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/courses.py" />
      <source>the draft has no prescription, so its fractions are not known</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the energy bins of the spectrum must ascend without overlap, within 50 MeV</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the field limit must lie in 0 to 500 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>the field reaches {along:.0f} mm along wedge {wedge} and {across:.0f} mm across it; it covers {most_along:.0f} and {most_across:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the file cannot be read ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the file cannot be written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the file cannot be written ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/ct_files.py" />
      <location filename="../../engine/dicom/export.py" />
      <source>the file cannot get its name ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the file is cut off</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the file is damaged ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>the files do not conform: {problems}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>the folder cannot be made ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the folder cannot be made ({strerror})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>the folder cannot be read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>the folder cannot be written to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>the folder does not exist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the folder does not exist or cannot be written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>the folder is empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>the fraction group does not name the beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>the gantry angle or weight of a control point is not a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>the gantry was tilted ({shown})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>the half-life is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>the header lacks {key!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>the image has no frame of reference, so nothing can be placed on it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>the image was never DICOM, so a dose has nothing to refer to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structure_file.py" />
      <source>the image was never DICOM, so contours have nothing to refer to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>the injected activity is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>the isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/kernels.py" />
      <source>the kernel tables are missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>the key {key!r} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>the key {key} is not known</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>the largest piece of {a}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/registration.py" />
      <source>the last row of a matrix is not 0, 0, 0, 1</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the leaf boundaries must ascend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the leaf end offset must lie in −5 to 5 mm, its growth in 0 to 5 mm, the span in 0 to 1000 mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>the least monitor units of a beam lie above the most</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>the leaves of its control points are not the same pairs</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/volumes/crossing.py" />
      <source>the lines it came in with cross in {count} places, on {slices}</source>
      <extracomment>Of one: the lines it came in with cross in {count} place, on {slices}</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>the logistic model needs a positive D50 and gamma50</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <location filename="../../engine/commission/machine_check.py" />
      <source>the machine file is not valid TOML: {error}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>the name is not among the standard names kept here, and none is like it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>the name is not among the standard names kept here; the nearest is {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>the name is not in TG-263 form: at most 16 letters, digits and _ - + ! ~ ^ .</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>the name says left, and its centre lies {mm:.0f} mm right of the middle of the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>the name says right, and its centre lies {mm:.0f} mm left of the middle of the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>the name {name!r} is used twice (TG-263: unique, whatever the letter case)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/intake.py" />
      <source>the new case file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/window.py" />
      <source>the new case has no file yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the order along the beam must be: focal spot, extra-focal plane, upper jaws, lower jaws and leaves, isocentre</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>the padding value stands for {odd_padding} HU, which is tissue; left as it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>the patient position (0018,5100) is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <location filename="../../engine/dicom/second_image.py" />
      <source>the pixels cannot be read, the file is cut off or damaged ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>the place pressed is narrower than {neck:g} mm, so necks held nothing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/frames.py" />
      <source>the places of its frames cannot be read ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>the plan lays boluses on the patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>the plan names no machine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>the planning CT has no frame of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>the point {point}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/beam.py" />
      <source>the position of a jaw or leaf is not a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>the prescribed volume ({normalisation})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the range of the {axis} jaws is empty: {lo} to {hi} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>the range {lo_hu:g} to {hi_hu:g} HU holds nothing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>the record cannot be written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/report/record_pdf.py" />
      <source>the record cannot be written ({error})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the record does not follow the last one of this case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/gamma.py" />
      <source>the reference dose is zero everywhere</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>the registration {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>the revision does not lead to a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>the same frame of reference as the planning CT</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>the scan starts {hours:.1f} h after the injection, which cannot be</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/demonstration.py" />
      <source>the second image read back differs from the one written</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>the set-up point is not three numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/segments.py" />
      <source>the shares of its segments do not add up to anything</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/sight.py" />
      <source>the source would lie in or beside the patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the spectrum needs one fluence per energy bin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the spectrum's fluence must not be negative and not all zero</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/libraries.py" />
      <source>the system library {found} that Qt needs is missing. On Debian: {advice}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/library.py" />
      <source>the table of limits has no column {missing}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/base/sources.py" />
      <source>the table's header lacks '# title:' or '# known:'</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/tangents.py" />
      <source>the target lies in the middle of the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <source>the target lies outside the largest field</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/uptake.py" />
      <source>the times of injection and scan are missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the tongue must be narrower than half a leaf</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/likeness.py" />
      <location filename="../../engine/volumes/margins.py" />
      <source>the two volumes lie on different grids</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the upper jaws must be X or Y</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/dvh.py" />
      <source>the volume holds only {volume_cm3:.3g} cm³, less than {cm3:g} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <location filename="../../engine/evaluation/samples.py" />
      <source>the volume is empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>the volume it is prescribed to is gone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <location filename="../../engine/volumes/tidy.py" />
      <source>the volume lies on another grid than the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>the volume of this goal does not exist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/silhouette.py" />
      <source>the volume reaches to the radiation source</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/optimise/rounds.py" />
      <source>the weights stand still after {count} rounds</source>
      <extracomment>Of one: the weights stand still after {count} round</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>the whole job on a synthetic demonstration patient</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>the {axis} jaws stand at {low:.0f} and {high:.0f} mm; {machine} moves them between {least:.0f} and {most:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>the {axis} jaws stand at {low:.0f} and {high:.0f} mm; {machine} opens to {limit:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/beam_devices.py" />
      <source>the {missing} of its wedge is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>the {what} table must start at 0 with 1, ascend, and hold values of 0.05 to 5</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>their doses lie in different frames of reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>there are no measured curves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/attenuation.py" />
      <source>there are no physics tables for it; known are {media}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>there are {count} usable CT series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>there is no beam dose to evaluate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/core/keeper.py" />
      <source>there is no case file to keep the record</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>there is no current fine dose to sign</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/phantoms/catalogue.py" />
      <source>there is no demonstration patient {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>there is no demonstration patient {unknown}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>there is no dose on the axis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>there is no draft {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>there is no generic machine of {energy:g} MV to start from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>there is no goal to serve</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>there is no machine file {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>there is no machine {name_or_path!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>there is no operation {what!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/shield.py" />
      <source>there is no organ to cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/release.py" />
      <source>there is no painted volume to release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/outline.py" />
      <source>there is no section {axis}={index} in a grid of shape {shape}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>there is no series {series_uid}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>there is no spectrum file {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>there is no such case file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>there is no such file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <location filename="../../engine/dicom/headers.py" />
      <source>there is no such folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>there is no such series</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>there is no such volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>there is no target to put the isocentre in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/collimator.py" />
      <source>there is no target to turn the collimator for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>there is no usable CT series{said}{damaged}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/evaluation.py" />
      <source>there is no volume {name!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/seeds.py" />
      <source>there is nothing to find by {what!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/conform.py" />
      <source>there is nothing to open the beam for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/rounds.py" />
      <source>these bounds of the monitor units leave no room for the prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <source>these goals are met already</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/codec.py" />
      <source>this case holds {kind!r} in a form of a newer program</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>this case is open read-only</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/migrate.py" />
      <source>this case was written by a newer Halfshade</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/edits.py" />
      <location filename="../../engine/dicom/export.py" />
      <source>this draft is no longer in the case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>this file exists already</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/headers.py" />
      <source>this is a file, not a folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>this is not a DICOM file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/case_file.py" />
      <source>this is not a Halfshade case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/record.py" />
      <source>this is not the passphrase that {reviewer} used before in this case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>this is {name}, not a {called}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/store/migrate.py" />
      <source>this older case must be brought up to date, but is read-only</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/beam_data.py" />
      <source>tissue-phantom ratio</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>top</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>transfer syntax {syntax} is not known</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/beam_data.py" />
      <source>transmission</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <location filename="../../engine/commission/parameters.py" />
      <source>transmission of jaws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <location filename="../../engine/commission/parameters.py" />
      <source>transmission of leaves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>two beams share a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>two beams share one key</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>two regions share a number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>two regions share the number {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>two volumes of the set have one name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>two volumes share one key</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>two wedges have one name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>unknown key {key!r} in [{section}]</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dose/request.py" />
      <source>unknown quality, method or quantity: {quality}, {method}, {report_to}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>unknown section [{section}]</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>unusual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_image.py" />
      <source>uptake values cannot be worked out: {why}; the numbers are those of the files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/image/second_image.py" />
      <source>values of shape {shape}, {dtype} are no second image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>verdict</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>verify the records of a case</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/shape.py" />
      <source>volume</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/margins.py" />
      <source>volumes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>volumes are derived from each other in a circle: {names}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <source>warn</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/wedge.py" />
      <source>wedge {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <location filename="../../engine/dose/wedge_effect.py" />
      <source>wedge {wedge} cannot stand at {angle:g} degrees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>wedges</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <source>wedges must be written as [[wedges]], one table each</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/balance.py" />
      <location filename="../../engine/optimise/rounds.py" />
      <source>weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/optimise/rounds.py" />
      <source>weights can be pushed towards none of these goals: {reason}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <location filename="../../app/commands/export.py" />
      <source>which draft (the last)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>which draft of the case (the last)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/intake.py" />
      <source>which series, when there are several</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>width of head scatter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>width of head scatter (mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>within</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goals.py" />
      <source>within tolerance</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_fit.py" />
      <source>write the fitted machine, its spectrum and plots beside it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/common.py" />
      <source>write the result as JSON; - is standard output, then nothing else is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/ct_files.py" />
      <location filename="../../engine/dicom/second_files.py" />
      <source>writing slices, {k} of {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>writing {names}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structure_file.py" />
      <source>writing {volume}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arcs.py" />
      <source>{angles} angles and {apertures} apertures make no arc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/sheet.py" />
      <source>{axis} plane through x {x:.1f}, y {y:.1f}, z {z:.1f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} and {b} at once</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} away from {b} by {first:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} inside {b} by {first:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} moved by {way} mm, turned by {turns} degrees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} or {b}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} or {b}, not both</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} smoothed over {first:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} smoothed over {first:g} mm through its slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} with left {left:g}, right {right:g}, anterior {front:g}, posterior {back:g}, inferior {feet:g}, superior {head:g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} with {first:+g} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} without cavities</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} without holes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} without islands</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/recipe.py" />
      <source>{a} without {b}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{beam} has weight 0.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{beam} has {mu:.1f} MU a fraction; {few_mu:g} to {many_mu:g} is usual for an open field.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>{beam} names a bolus that is no longer in the case.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>{beam} names the bolus {volume}, which is empty.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>{beam} names {volume} as bolus, but its role is {role}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_grid.py" />
      <source>{beam} passes the {sides} end of the dose grid inside the body; no dose is known beyond.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_beams.py" />
      <source>{beam}: at gantry {gantry:g}° the head comes within {distance:.0f} mm of the {what}. Try it at the machine.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>{cm3:.4g} cm³, where {low:g} to {high:g} cm³ would be expected (a range from memory, not read in a source)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{count} beams are called {name}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/live.py" />
      <source>{count} beams need as many weights that are not negative, not {weights}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>{count} findings stand open, first: {evidence}</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/dicom/stacking.py" />
      <source>{count} localizer pictures of the series left out</source>
      <extracomment>Of one: {count} localizer picture of the series left out</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <source>{count} of other widths</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>{count} offsets do not fit {shape} values</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/statement.py" />
      <source>{count} pictures were not looked at, first: {unseen}</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/volumes/crossing.py" />
      <source>{count} slices</source>
      <extracomment>Of one: {count} slice</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message numerus="yes">
      <location filename="../../engine/volumes/quality.py" />
      <source>{count} slices between painted ones hold nothing</source>
      <extracomment>Of one: {count} slice between painted ones holds nothing</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message numerus="yes">
      <location filename="../../engine/dicom/one_series.py" />
      <source>{count} slices missing between {low:.1f} and {high:.1f} mm{more}</source>
      <extracomment>Of one: {count} slice missing between {low:.1f} and {high:.1f} mm{more}</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>{date!r} is not a date</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>{decision} and sealed as {record}. Results are in {folder}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{demand}, cannot be judged.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{demand}, reached {value:.2f}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{demand}, reached {value:.2f}: within the tolerance.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{dose_gy:g} Gy in {fractions} fractions are {per_fraction:.2f} Gy each.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/case.py" />
      <source>{dose_gy} Gy in {fractions} fractions is not a prescription</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{dose_spacing_mm:g} mm for a target of {volume_cm3:.1f} cm³.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{draft} has no beam.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{draft} has no goals.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{draft} has no prescription.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>{field} must be positive</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>{field} must lie in 0 to 1, not {value}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{file} holds several frames ({frames}), which is not read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>{file} is accepted (problems: {problems}, unusual values: {unusual}).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{file} is an enhanced multi-frame object ({name}), which is no planning CT here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_check.py" />
      <source>{file} is refused (problems: {problems}, unusual values: {unusual}).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{file}, line {line}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/check.py" />
      <source>{findings} findings, {still} open; dose: {state}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{hidden:.0f} % of the edge of {target} lies outside the aperture of {beam}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine_file.py" />
      <location filename="../../engine/commission/measured.py" />
      <source>{key} cannot be {value!r}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{key} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{key} is no text</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{key} is {value!r}, no number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{key} is {value:g}, outside {low:g} to {high:g}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{k} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{k} is missing or empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/control_points.py" />
      <source>{leaves} leaf positions do not fit {edges} leaf boundaries</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/region.py" />
      <source>{left:.1f} cm³ behind necks narrower than {neck:g} mm left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/read_ct.py" />
      <source>{lost}{more} beside it is damaged and may be one of its slices</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/shield.py" />
      <source>{machine} has no leaves to move over an organ</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/limits.py" />
      <location filename="../../engine/dicom/beam_devices.py" />
      <location filename="../../engine/dose/wedge_effect.py" />
      <source>{machine} has no wedge {wedge}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>{metric} cannot be told</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/machine_show.py" />
      <source>{met} of {published} published values are met; {held} of {recalled} recalled bands hold, which is plausibility and no validation.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>{moment!r} is not a date and time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>{name!r} cannot be written as a person name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/export.py" />
      <source>{names} are not three file names</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/space/point.py" />
      <source>{name} (x {x:.1f}, y {y:.1f}, z {z:.1f} mm)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/course_sum.py" />
      <source>{name} gives up to {gy:.1f} Gy a fraction: above {limit:g} Gy the linear-quadratic formula is in doubt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{name} has a pixel spacing of {numbers} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{name} has a rescale slope of 0</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/sets.py" />
      <source>{name} has a role that is not one of {roles}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{name} has an orientation that is no pair of perpendicular units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{name} has changed since it was chosen for this plan; the case keeps the earlier model.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{name} has no SOP instance UID (0008,0018)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{name} has no frame of reference (0020,0052), so nothing can be placed on it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{name} has no usable {words}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{name} holds a decimal string of more than {longest_decimal} characters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{name} holds a malformed identifier</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{name} holds numbers in {unit!r}, not in Hounsfield units</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/second_stack.py" />
      <source>{name} is a colour picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{name} is a colour picture, not CT numbers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{name} is cut off: it is shorter than its pixels</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_plan.py" />
      <source>{name} is not a shipped machine; its model is in the case.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/frames.py" />
      <source>{name} says it has {frames} frames and describes {count}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{name} {metric}: demanded {sign} {limit:g}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/frames.py" />
      <source>{name}, frame {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{name}: belongs to another study than the image</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{name}: drawn in another frame of reference; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{name}: edges lie {more:+.1f} mm from where the field was set; the model puts jaws where they are set</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{name}: it ends at {depth:g} mm, too shallow to tell the spectrum</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{name}: its halves differ by up to {percent:.1f} %; the model is even</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{name}: its name is longer than {most} characters and is cut</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{name}: moved by {shift:+.2f} mm to its middle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/measured.py" />
      <source>{name}: {count} points above the water were left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/points.py" />
      <source>{name}: {count} points are no markers; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{name}: {keyword} differs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/points.py" />
      <source>{name}: {what}; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/machine.py" />
      <source>{nominal_mv} MV is not a photon beam of 1 to 50 MV</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/beams/arrange.py" />
      <source>{n} beams cannot be spread</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/one_series.py" />
      <source>{one} and {other} lie at the same position, {z:.2f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>{option} has no meaning with {source}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_volumes.py" />
      <source>{outside_cm3:.2f} cm³ of {inner} lie outside {outer}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/case/derived.py" />
      <source>{parent} is itself derived from {volume}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/parameters.py" />
      <source>{part} stays that of the start: no profile reaches 30 mm beyond an edge.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/__main__.py" />
      <source>{path!r} is neither a command nor a file or folder. Commands are {commands}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{path} is missing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{path} is missing or empty</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan.py" />
      <source>{path}, beam {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/demo.py" />
      <source>{patient} (synthetic): {slices} slices, {volumes} volumes, {beams} beams, {gy:g} Gy in {fractions} fractions to {target}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: its points and open lines are left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: its type {type} has no role here and is taken as OTHER</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: its {kind} of {value} is not used; set a mass density if it matters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: points and open lines are not regions; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {beyond} contours lie above or below the image and are not filled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {clipped_cm3:.2f} cm³ lie outside the image and are cut off</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {count} contours are there twice; they count once</source>
      <extracomment>Of one: {roi}: {count} contour is there twice; it counts once</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message numerus="yes">
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {count} slices hold contours at several heights; the nearest count</source>
      <extracomment>Of one: {roi}: {count} slice holds contours at several heights; the nearest count</extracomment>
      <translation type="unfinished">
        <numerusform />
      </translation>
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {degenerate} contours of fewer than three points hold no area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/structures.py" />
      <source>{roi}: {reason}; left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/conform.py" />
      <source>{sequence} refers to a region that does not exist</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/indices.py" />
      <source>{shared_cm3:g} cm³ cannot be shared by {target_cm3:g} and {isodose_cm3:g} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/seal.py" />
      <source>{signed_at}  {decision} by {reviewer}, {role} ({draft})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/metrics.py" />
      <source>{some} or {last}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/fit.py" />
      <source>{stage}: step {n}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{text!r} is no {key}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>{text!r} is not VOLUME:METRIC</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{text!r} is not in {unit}, as {metric} is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/dose.py" />
      <source>{threads} threads are not between 1 and 256</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/stacking.py" />
      <source>{tilt:g} degrees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/radiobiology.py" />
      <source>{total_gy} Gy in {fractions} fractions with alpha/beta {alpha_beta_gy} Gy has no BED</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>{units} monitor units cannot be delivered</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/plan_file.py" />
      <source>{values} monitor unit values for {beams} beams</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/common.py" />
      <source>{value} cannot be written as a decimal string</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/evaluate.py" />
      <source>{volume_cm3:.2f} cm³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>{volume_cm3:.2f} cm³ lie less than {skin_mm:g} mm under the skin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/quality.py" />
      <source>{volume_cm3:.2f} cm³ lie outside the body</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{volume} counts as {density_g_cm3:g} g/cm³ whatever the CT says.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_handover.py" />
      <source>{volume} is derived ({recipe}) and what it stands on has changed since it was made.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/review/checks_dose.py" />
      <source>{volume} reaches {beyond:.0f} mm beyond the dose grid.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/evaluation/goal_file.py" />
      <source>{volume} {metric} is there already, in line {line}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>{voxels} judged voxels lie within {distance_mm:g} mm of the evaluated grid's border; their gamma can only come out too high.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/commands/compare.py" />
      <source>{voxels} voxels above the threshold lie outside the evaluated grid and were not judged.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/dicom/dose.py" />
      <source>{words} (beam {numbers})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/volumes/expected.py" />
      <source>{words} The nearest of its names is {name}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../engine/commission/machine_check.py" />
      <source>{words} is {value:.4g}; usual is {low:g} to {high:g} [memory]. Make sure it is meant.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>Workspace</name>
    <message>
      <location filename="../../app/core/workspace.py" />
      <source>This case is open elsewhere, so it is read-only here. Save a copy to work on it.</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>_Grip</name>
    <message>
      <location filename="../../app/panels/shared_column.py" />
      <source>Drag to share the height anew; a double click shares it as at first</source>
      <translation type="unfinished" />
    </message>
  </context>
  <context>
    <name>_Table</name>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>New</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../app/models/balance_tables.py" />
      <source>Proposed</source>
      <translation type="unfinished" />
    </message>
  </context>
</TS>
