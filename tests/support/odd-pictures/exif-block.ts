/** A value of an EXIF entry: letters, whole numbers of 16 bits, fractions, or bytes. */
export type ExifValue =
  | string
  | { readonly short: number }
  | { readonly fractions: readonly number[] }
  | { readonly bytes: Buffer };

type Entries = Readonly<Record<number, ExifValue>>;

/** What a camera writes: the main directory, what it says of the shot, of the place, and a small picture. */
export interface ExifContent {
  readonly main?: Entries;
  readonly shot?: Entries;
  readonly place?: Entries;
  readonly thumbnail?: Buffer;
}

/** Tags by their usual names (CIPA DC-008, from memory). */
export const TAG = {
  make: 0x010f,
  model: 0x0110,
  orientation: 0x0112,
  artist: 0x013b,
  copyright: 0x8298,
  shotDirectory: 0x8769,
  placeDirectory: 0x8825,
  taken: 0x9003,
  takenZone: 0x9011,
  owner: 0xa430,
  bodySerial: 0xa431,
  lensSerial: 0xa435,
  latitudeHalf: 0x0001,
  latitude: 0x0002,
  longitudeHalf: 0x0003,
  longitude: 0x0004,
  thumbnailAt: 0x0201,
  thumbnailBytes: 0x0202,
} as const;

const long = (value: number): Buffer => {
  const out = Buffer.alloc(4);
  out.writeUInt32LE(value);
  return out;
};

const short = (value: number): Buffer => {
  const out = Buffer.alloc(2);
  out.writeUInt16LE(value);
  return out;
};

/** Type, count and bytes of a value. */
const stored = (value: ExifValue | number): readonly [type: number, count: number, body: Buffer] => {
  if (typeof value === "number") return [4, 1, long(value)];
  if (typeof value === "string") return [2, value.length + 1, Buffer.from(`${value}\0`, "latin1")];
  if ("short" in value) return [3, 1, short(value.short)];
  if ("bytes" in value) return [7, value.bytes.length, value.bytes];
  const { fractions } = value;
  return [5, fractions.length, Buffer.concat(fractions.flatMap((one) => [long(Math.round(one * 1000)), long(1000)]))];
};

/** A directory that begins at `at`, its values behind it, and then the offset of the next directory. */
const directory = (at: number, entries: Readonly<Record<number, ExifValue | number>>, next: boolean): Buffer => {
  const tags = Object.keys(entries)
    .map(Number)
    .sort((a, b) => a - b);
  const headBytes = 2 + 12 * tags.length + 4;
  const values: Buffer[] = [];
  let free = at + headBytes;
  const rows = tags.map((tag) => {
    const [type, count, body] = stored(entries[tag] ?? 0);
    if (body.length <= 4)
      return Buffer.concat([short(tag), short(type), long(count), body, Buffer.alloc(4 - body.length)]);
    const row = Buffer.concat([short(tag), short(type), long(count), long(free)]);
    const even = Buffer.concat([body, Buffer.alloc(body.length % 2)]);
    values.push(even);
    free += even.length;
    return row;
  });
  return Buffer.concat([short(tags.length), ...rows, long(next ? free : 0), ...values]);
};

/** An EXIF block of little-endian numbers, beginning with its "II*" (TIFF 6.0, from memory). */
export const exifBlock = ({ main = {}, shot = {}, place = {}, thumbnail }: ExifContent): Buffer => {
  const withPointers = (shotAt: number, placeAt: number) =>
    directory(8, { ...main, [TAG.shotDirectory]: shotAt, [TAG.placeDirectory]: placeAt }, thumbnail !== undefined);
  const thumbnailAt = 8 + withPointers(0, 0).length;
  const small = thumbnail ?? Buffer.alloc(0);
  const smallRows = (at: number) =>
    directory(thumbnailAt, { [TAG.thumbnailAt]: at, [TAG.thumbnailBytes]: small.length }, false);
  const shotAt = thumbnailAt + smallRows(0).length + small.length;
  const shotRows = directory(shotAt, shot, false);
  const placeAt = shotAt + shotRows.length;
  return Buffer.concat([
    Buffer.from("II*\0\x08\0\0\0", "latin1"),
    withPointers(shotAt, placeAt),
    smallRows(thumbnailAt + smallRows(0).length),
    small,
    shotRows,
    directory(placeAt, place, false),
  ]);
};

/** What the segment of a JPEG that holds an EXIF block begins with. */
export const exifHead = Buffer.from("Exif\0\0", "latin1");
