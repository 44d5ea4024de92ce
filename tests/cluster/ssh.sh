#!/usr/bin/env bash
# Places shared out by GNU parallel to several hosts: ssh on the loopback, by a server of the test's
# own with its own keys, stopped by its process id.
. "$(dirname "$0")/places.sh"
need parallel ssh ssh-keygen
sshd=$(command -v sshd || echo /usr/sbin/sshd)
[ -x "$sshd" ] || skip "sshd (openssh-server) is not installed"

ssh-keygen -q -t ed25519 -N '' -f "$scratch/host_key"
ssh-keygen -q -t ed25519 -N '' -f "$scratch/user_key"
cp "$scratch/user_key.pub" "$scratch/authorized_keys"
port=$((20000 + $$ % 20000))
cat >"$scratch/sshd_config" <<EOF
Port $port
ListenAddress 127.0.0.1
HostKey $scratch/host_key
AuthorizedKeysFile $scratch/authorized_keys
PidFile $scratch/sshd.pid
StrictModes no
UsePAM no
PasswordAuthentication no
KbdInteractiveAuthentication no
PermitRootLogin prohibit-password
MaxStartups 50
EOF
if [ "$(id -u)" = 0 ]; then mkdir -p /run/sshd; fi  # where Debian's sshd wants to be locked in
"$sshd" -D -e -f "$scratch/sshd_config" 2>"$scratch/sshd.log" &
server=$!
cleanup() {
    kill "$server" 2>/dev/null || true
    wait "$server" 2>/dev/null || true
    rm -rf "$scratch"
}

cat >"$scratch/ssh" <<EOF
#!/bin/sh
exec ssh -p $port -i $scratch/user_key -F none -o BatchMode=yes -o LogLevel=ERROR \\
    -o StrictHostKeyChecking=no -o UserKnownHostsFile=$scratch/known_hosts "\$@"
EOF
chmod +x "$scratch/ssh"
for attempt in $(seq 50); do
    if "$scratch/ssh" 127.0.0.1 true 2>"$scratch/ssh.log"; then break; fi
    if [ "$attempt" = 50 ] || ! kill -0 "$server" 2>/dev/null; then
        cat "$scratch/sshd.log" "$scratch/ssh.log"
        skip "no ssh session on the loopback"
    fi
    sleep 0.1
done

export HOME=$scratch PARALLEL_SSH=$scratch/ssh
parallel --will-cite --pipe -k -N 100 -S 1/127.0.0.1,1/localhost "${ask[@]}" \
    <"$scratch/places.ndjson" >"$scratch/hosts.json"
same "$scratch/hosts.json" "parallel on two hosts by ssh"

of_topic 2 | sed 's/host1,host2/1\/127.0.0.1,1\/localhost/' >"$scratch/topic.sh"
(cd "$scratch" && bash -euo pipefail topic.sh)
same "$scratch/answers.ndjson" "two hosts, as the manual has it"
