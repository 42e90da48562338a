# awk -f plain.awk sentences.cfg: the shipped sentences as what is built in, so
# that they are worded in one place
BEGIN {
  print "#include \"profiles/sentences/sentences.h\"\n"
  print "const Sentences*\nsentences_plain(void)\n{"
  print "  static const Sentences plain = {{"
}
/^[a-z_]+ = {$/ { group = toupper($1) }
/^  [a-z_]+ = \[/ {
  n = 0
  kind = "SENTENCE_" group "_" toupper($1)
  sub(/^  [a-z_]+ = \[/, "")
}
kind && /"/ {
  while (match($0, /"[^"]*"/)) {
    words[++n] = substr($0, RSTART, RLENGTH)
    $0 = substr($0, RSTART + RLENGTH)
  }
}
kind && /\];$/ {
  printf "    [%s] = {%d, {", kind, n
  for (i = 1; i <= n; ++i) printf "%s%s", words[i], i < n ? ", " : "}},\n"
  kind = ""
}
END { print "  }};\n  return &plain;\n}" }
