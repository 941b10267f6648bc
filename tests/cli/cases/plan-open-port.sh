# An open port of the vessel at the pipe that is opened (N2): no place is left where a device would help (I6).
cat > open.xml <<'P'
<plant xmlns="urn:stillset:plant:1" id="open">
  <vessel id="V-1" contents="liquid"><port id="a"/><port id="spare"/></vessel>
  <valve id="HV-1" kind="gate" lockable="yes"/>
  <limit id="L-1"/>
  <spool id="S-1" from="V-1.a" to="HV-1.in"/>
  <spool id="S-2" from="HV-1.out" to="L-1.in"/>
</plant>
P
stillset plan open.xml --target S-1 --grade single | sed -n '/^WHY IT/,/^FINDINGS/p'
