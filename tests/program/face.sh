#!/bin/bash
# `coldbay face`: what it writes and says, that the same case gives the same bytes, and what it refuses.
set -u
coldbay=$1
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0
complain() {
  echo "$1"
  failed=1
}

cat >case.yaml <<'EOF'
title: One bay
air: {inside: {temperature: 20 °C, humidity: 50 %}, outside: {temperature: -5 °C}}
camera: {distance: 1.5 m, noise: 0.1 K, pixels: [160, 120]}
picture: {spots: {plate: [200 mm, 20 mm]}, lines: {up the bay: [[220 mm, 0 mm], [220 mm, 600 mm]]}}
wall:
  height: 600 mm
  layers: [gypsum board 12.5 mm, frame, osb 11 mm]
  frame: {member: softwood 38 x 89 mm, spacing: 400 mm}
  bays: [{batt: R-13, short: 50 mm, at: bottom}]
sections: [vertical through bay 1]
EOF
sed 's/, short: 50 mm, at: bottom//' case.yaml >right.yaml
cat >drawn.yaml <<'EOF'
section: {width: 100 mm, depth: 50 mm, shapes: [{material: softwood, across: [0 mm, 100 mm], depth: [0 mm, 50 mm]}]}
air: {inside: {temperature: 20 °C}, outside: {temperature: 0 °C}}
EOF

"$coldbay" face case.yaml --out one --framing --outer >said.txt 2>/dev/null || complain "face ended with $?"
for file in face.png face-camera.png face-outer.png face.csv face.tif face-right.tif face.json; do
  [ -s one/$file ] || complain "there is no $file"
done
for words in 'U-value .* as built, .* built right: +' 'normal here' 'temperature factor .* keeps a surface below 80 %' 'dew point' 'behind the frame' 'known within' \
  'bay 1 .*W/K, +.*colder at' 'short'; do
  grep -q "$words" said.txt || complain "it does not say '$words'"
done
grep -qi nan said.txt one/face.json && complain "a number is not one"

# The same bytes again, over what is there; a file of someone else's is not replaced.
"$coldbay" face case.yaml --out two --framing --outer >/dev/null 2>&1
diff -r one two >/dev/null || complain "the same case gave other bytes"
"$coldbay" face case.yaml --out two >/dev/null 2>&1 || complain "its own files are in its way"
echo mine >two/face.csv
"$coldbay" face case.yaml --out two >/dev/null 2>&1
[ $? = 5 ] || complain "another's file should end with 5"
[ "$(cat two/face.csv)" = mine ] || complain "another's file was replaced"

# A wall with nothing wrong has no difference to show.
"$coldbay" face right.yaml --out three >said.txt 2>/dev/null || complain "a wall built right ended with $?"
[ -e three/face-right.tif ] && complain "a wall built right needs no second map"
grep -q 'What each bay costs' said.txt && complain "a wall built right costs nothing"

message=$("$coldbay" face drawn.yaml 2>&1)
[ $? = 3 ] || complain "a drawn section should end with 3"
case $message in *"only a wall has a face"*) ;; *) complain "a drawn section: $message" ;; esac
for command in face outlook; do
  "$coldbay" $command case.yaml --within nan >/dev/null 2>&1
  [ $? = 2 ] || complain "$command --within nan should end with 2"
done

# Where nobody knows what would be right, nothing is compared: no +0.0 %, and not "nothing is wrong" either.
sed 's/bays: .*/bays: [nothing]/' case.yaml >unknown.yaml
"$coldbay" face unknown.yaml --within 0.3 >said.txt 2>/dev/null || complain "an unknown wall ended with $?"
grep -q 'what would be right in bay 1 is not known' said.txt || complain "it does not say that bay 1 is not compared"
grep -q 'built right: +0.0' said.txt && complain "it compares a wall with itself"
"$coldbay" face case.yaml --within 5 >/dev/null 2>&1
[ $? = 2 ] || complain "--within 5 should end with 2"
exit $failed
