/** Table of the CRC (start value 0) of one byte. */
const afterByte = Int32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte << 8;
  for (let bit = 0; bit < 8; bit += 1)
    remainder = ((remainder << 1) ^ ((remainder & 0x8000) === 0 ? 0 : 0x1021)) & 0xffff;
  return remainder;
});
/** Table of the CRC of what `table` is for, followed by one zero byte. */
const oneZeroMore = (table: Int32Array) =>
  table.map((remainder) => ((remainder << 8) & 0xffff) ^ (afterByte[remainder >> 8] as number));
const afterTwo = oneZeroMore(afterByte);
const afterThree = oneZeroMore(afterTwo);
const afterFour = oneZeroMore(afterThree);
const afterFive = oneZeroMore(afterFour);
const afterSix = oneZeroMore(afterFive);
const afterSeven = oneZeroMore(afterSix);
const afterEight = oneZeroMore(afterSeven);

/**
 * CRC-16/CCITT-FALSE (also catalogued as CRC-16/IBM-3740) of `bytes[start]` up to, but not including, `bytes[end]`.
 *
 * Polynomial 0x1021, start value 0xFFFF, neither input nor output reflected, no final exclusive-or.
 * Method: Sarwate (1988), "Computation of cyclic redundancy checks via table look-up", Communications of the ACM 31(8),
 * with eight tables ("slicing", Kounavis and Berry 2008, IEEE Transactions on Computers 57(11)).
 *
 * @returns 0 to 65535
 * @throws RangeError if start and end do not lie in order within the bytes
 */
export function crc16(bytes: Uint8Array, start = 0, end = bytes.length): number {
  if (!(start >= 0 && start <= end && end <= bytes.length))
    throw new RangeError(`crc16 needs 0 <= start <= end <= ${bytes.length}, found ${start} and ${end}`);
  let crc = 0xffff;
  let i = start;
  // Eight look-ups that do not wait for each other, instead of a chain of eight: only two need the remainder.
  for (const lastEight = end - 8; i <= lastEight; i += 8)
    crc =
      (afterEight[(crc >> 8) ^ (bytes[i] as number)] as number) ^
      (afterSeven[(crc & 0xff) ^ (bytes[i + 1] as number)] as number) ^
      (afterSix[bytes[i + 2] as number] as number) ^
      (afterFive[bytes[i + 3] as number] as number) ^
      (afterFour[bytes[i + 4] as number] as number) ^
      (afterThree[bytes[i + 5] as number] as number) ^
      (afterTwo[bytes[i + 6] as number] as number) ^
      (afterByte[bytes[i + 7] as number] as number);
  if (i <= end - 4) {
    crc =
      (afterFour[(crc >> 8) ^ (bytes[i] as number)] as number) ^
      (afterThree[(crc & 0xff) ^ (bytes[i + 1] as number)] as number) ^
      (afterTwo[bytes[i + 2] as number] as number) ^
      (afterByte[bytes[i + 3] as number] as number);
    i += 4;
  }
  for (; i < end; i += 1)
    crc = ((crc << 8) & 0xffff) ^ (afterByte[(crc >> 8) ^ (bytes[i] as number)] as number);
  return crc;
}
