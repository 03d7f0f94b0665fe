#!/bin/bash
# Whatever is named as a case, coldbay answers with a message and exit code 3, and never crashes.
set -u
coldbay=$1
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
cd "$folder" || exit 1
failed=0

# refuse WORDS FILE: both commands must refuse the file with these words; one that hangs is stopped.
refuse() {
  local words=$1 file=$2 command code
  for command in check predict; do
    timeout 120 "$coldbay" "$command" "$file" >out 2>err </dev/null
    code=$?
    if [ $code -ne 3 ]; then
      echo "exit $code (124: it hung), wanted 3: $command $file"
      failed=1
    fi
    if ! grep -qF -- "$words" err; then
      echo "no '$words' in the message of: $command $file"
      head -c 300 err
      failed=1
    fi
    if [ -s out ]; then
      echo "a refusal belongs on stderr: $command $file"
      failed=1
    fi
  done
}

many() { head -c "$2" /dev/zero | sed "s/\\x00/$1/g"; }

mkdir a-folder
refuse "this is a folder, not a case file" a-folder
refuse "this is a folder, not a case file" .
refuse "cannot be opened" missing.yaml
refuse "cannot be opened" missing/case.yaml
refuse "this file is empty" /dev/null
refuse "larger than any case" /dev/zero
refuse "error:" "$coldbay" # a program
: >empty.yaml
refuse "this file is empty" empty.yaml
printf 'a: \xff\xfe\x00' >binary.yaml
refuse "this is not UTF-8 text" binary.yaml
many '[' 100000 >brackets.yaml
refuse "nested too deeply" brackets.yaml
many '{' 100000 >braces.yaml
refuse "nested too deeply" braces.yaml
many '- ' 100000 >dashes.yaml
refuse "nested too deeply" dashes.yaml
many 'x' 4300000 >large.yaml
refuse "larger than any case" large.yaml
many 'x' 4000000 >word.yaml
refuse "a word stands where a case is wanted" word.yaml
{ echo 'bomb: &a0 x'; for i in 1 2 3 4 5 6 7 8 9; do
  p="*a$((i - 1))"
  echo "b$i: &a$i [$p, $p, $p, $p, $p, $p, $p, $p, $p, $p]"
done; } >bomb.yaml
refuse "counting what its aliases stand for" bomb.yaml
{ printf 'section: {width: 1 m, depth: 1 m, shapes: ['; many '{material: gipsum bord},' 50000; echo ']}'; } >errors.yaml
refuse "100 errors, perhaps more" errors.yaml
if [ "$(id -u)" -ne 0 ]; then # nothing is unreadable to root
  echo 'title: x' >secret.yaml
  chmod 000 secret.yaml
  refuse "cannot be opened" secret.yaml
fi

# A file cannot send orders to the terminal through a message.
printf 'title: x\n"\\e[2J\\e[31m": 1\nsection: {width: "\\e[31m5"}\n' >escape.yaml
"$coldbay" check escape.yaml 2>err
if grep -q $'\x1b' err; then
  echo "an escape code of the file reached the terminal"
  failed=1
fi

exit $failed
