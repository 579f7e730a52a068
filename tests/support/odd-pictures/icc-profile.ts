/** A profile that sharp's engine embeds or ours, as another class of machine: "scnr" a scanner, "prtr" a printer. */
export const ofClass = (profile: Buffer, machine: "scnr" | "prtr"): Buffer => {
  const out = Buffer.from(profile);
  out.write(machine, 12, "latin1");
  return out;
};

/** The same profile with its first tone curve replaced by a plain power, as a "curv" of one number. */
export const withPower = (profile: Buffer, power: number): Buffer => {
  const out = Buffer.from(profile);
  const at = out.readUInt32BE(out.indexOf("rTRC", 128, "latin1") + 4);
  out.write("curv", at, "latin1");
  out.writeUInt32BE(1, at + 8);
  out.writeUInt16BE(Math.round(power * 256), at + 12);
  return out;
};
