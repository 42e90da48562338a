# Looks over a recording that midicsv has read: what design section 4 says of
# one, and what RP-001 asks of any. Says what is wrong, one line each.
#
#   awk -F', ' -v first=player -v turns=6 -v turn_ticks=15360 \
#       -v count_in=3840 -v bar=3840 -f recording.awk FILE.csv

function wrong(words) { print "line " NR ": " words; n_wrong++ }

$3 == "Header" {
  if ($4 != 1 || $5 != 6 || $6 != 960) wrong("the header is " $0)
}

# Tracks by their names; the first has the chart's
$3 == "Title_t" {
  if ($2 != 0) wrong("a name at " $2)
  split("player partner chords bass drums", names, " ")
  if ($1 > 1 && $4 != "\"" names[$1 - 1] "\"") wrong("track " $1 " is " $4)
  if (++n_names[$1] > 1) wrong("a second name for track " $1)
}

$3 == "Tempo" || $3 == "Time_signature" || $3 == "Key_signature" {
  if ($1 != 1 || $2 != 0) wrong($3 " in track " $1 " at " $2)
  if (++n_of[$3] > 1) wrong("a second " $3)
}

$3 == "Text_t" {
  if ($1 != 1 || $2 != 0) wrong("a text in track " $1 " at " $2)
  if ($4 !~ /^"barter-session 1\\012/) wrong("the text is " substr($0, 1, 60))
  if (++n_of[$3] > 1) wrong("a second text")
}

$3 == "Marker_t" {
  n_turns++
  player = (first == "player") == (n_turns % 2 == 1) ? "player" : "partner"
  if ($4 != "\"turn " n_turns " " player "\"") wrong("turn " n_turns " is " $4)
  if ($1 != 1) wrong("a marker in track " $1)
  if ($2 != count_in + (n_turns - 1) * turn_ticks) wrong("turn " n_turns " at " $2)
}

# Each note on its own channel, with one end, sounding in its time
$3 == "Note_on_c" && $6 > 0 {
  if ($1 < 2) wrong("a note in track " $1)
  if (($4 == 9) != ($1 == 6)) wrong("track " $1 " on channel " $4)
  if (sounding[$1, $5]) wrong("pitch " $5 " of track " $1 " is struck twice")
  sounding[$1, $5] = 1
  struck[$1, $5] = $2
  n_notes[$1]++
}

$3 == "Note_off_c" || $3 == "Note_on_c" && $6 == 0 {
  if (!sounding[$1, $5]) wrong("an end without a note")
  if ($2 <= struck[$1, $5]) wrong("a note of no length")
  sounding[$1, $5] = 0
  last[$1] = $2
}

# The partner keeps to its turns, but for a pick-up of half a beat and for the
# band's last downbeat
function is_in_turn(turn, tick) {
  if (turn > turns) return tick <= count_in + turns * turn_ticks + 480
  return (first == "player") == (turn % 2 == 0)
}

$3 == "Note_on_c" && $6 > 0 && $1 == 3 {
  turn = int(($2 - count_in + 480) / turn_ticks) + 1
  if (!is_in_turn(turn, $2)) wrong("the partner in turn " turn)
}

$3 == "Note_off_c" && $1 == 3 {
  turn = int(($2 - 1 - count_in) / turn_ticks) + 1
  if (!is_in_turn(turn, struck[$1, $5])) wrong("it sounds in turn " turn)
}

{
  if (ended[$1] && $1 > 0) wrong("an event after the end of track " $1)
}

$3 == "End_track" {
  ended[$1] = 1
  if ($2 != count_in + turns * turn_ticks + bar) wrong("track " $1 " ends at " $2)
  if (last[$1] > $2) wrong("track " $1 " sounds after its end")
}

$3 == "End_of_file" { is_whole = 1 }

END {
  if (n_turns != turns) wrong(n_turns + 0 " turns")
  for (name in n_of) n_head += n_of[name]
  if (n_head != 4) wrong("tempo, meter, key and text are not all there")
  for (track = 1; track <= 6; ++track) {
    if (!n_names[track]) wrong("track " track " has no name")
    if (track > 2 && !n_notes[track]) wrong("track " track " is silent")
  }
  for (key in sounding) if (sounding[key]) wrong("a note without an end")
  if (!is_whole) wrong("midicsv did not come to the end")
  exit n_wrong > 0
}
