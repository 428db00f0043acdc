import { AsnConvert, OctetString } from "@peculiar/asn1-schema";
import { MessageImprint, TimeStampReq, TimeStampReqVersion } from "@peculiar/asn1-tsp";
import { AlgorithmIdentifier } from "@peculiar/asn1-x509";

/** Object identifier of SHA-256 (RFC 5754, section 2.2). */
export const sha256Identifier = "2.16.840.1.101.3.4.2.1";

/**
 * A time stamp request in DER: asks an authority to sign a hash together with its time, and to send its certificate with it.
 *
 * Source: RFC 3161 (2001), section 2.4.1.
 *
 * @param imprint SHA-256 of what is to be stamped, 32 bytes
 * @param nonce a positive number as bytes, big-endian, without a leading zero or a set top bit; null for none
 * @throws RangeError for an imprint or a nonce of another shape
 */
export function timeStampRequest(
  imprint: Uint8Array,
  nonce: Uint8Array | null,
  { certificate = true }: { certificate?: boolean } = {},
): Uint8Array {
  if (imprint.length !== 32)
    throw new RangeError(`expected an imprint of 32 bytes but found ${imprint.length}`);
  const [first] = nonce ?? [1];
  if (first === undefined || first === 0 || first > 127)
    throw new RangeError(`expected a nonce whose first byte is 1 to 127 but found ${first ?? "no byte"}`);
  return new Uint8Array(
    AsnConvert.serialize(
      new TimeStampReq({
        version: TimeStampReqVersion.v1,
        messageImprint: new MessageImprint({
          hashAlgorithm: new AlgorithmIdentifier({ algorithm: sha256Identifier, parameters: null }),
          hashedMessage: new OctetString(imprint),
        }),
        ...(nonce === null ? {} : { nonce: Uint8Array.from(nonce).buffer }),
        certReq: certificate,
      }),
    ),
  );
}
