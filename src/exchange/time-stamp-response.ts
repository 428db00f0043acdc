import { createHash, createVerify, X509Certificate } from "node:crypto";
import { id_signedData, SignedData, type SignerInfo } from "@peculiar/asn1-cms";
import { AsnConvert, OctetString } from "@peculiar/asn1-schema";
import { id_ct_tstInfo, PKIStatus, TimeStampResp, TSTInfo } from "@peculiar/asn1-tsp";
import { sha256Identifier } from "./time-stamp-request.ts";

/** What an authority has signed: this hash was there at this time. */
export interface TimeStamp {
  /** SHA-256 that was stamped, 64 hex digits. */
  imprint: string;
  /** Nonce of the request, hex, or null. */
  nonce: string | null;
  /** UTC in ISO 8601 with milliseconds. */
  time: string;
  /** Object identifier of the authority's policy. */
  policy: string;
  /** Serial number that the authority gave it, hex. */
  serial: string;
  /** Subject of the certificate that made the signature, as the certificate words it. */
  authority: string;
}

export type TimeStampReading = { ok: true; stamp: TimeStamp } | { ok: false; problem: string };

const messageDigest = "1.2.840.113549.1.9.4";
const digestNames: Readonly<Record<string, string>> = {
  [sha256Identifier]: "sha256",
  "2.16.840.1.101.3.4.2.2": "sha384",
  "2.16.840.1.101.3.4.2.3": "sha512",
};
const hex = (bytes: ArrayBuffer | Uint8Array): string => Buffer.from(bytes as Uint8Array).toString("hex");
const no = (problem: string): TimeStampReading => ({ ok: false, problem });

/**
 * Reads a time stamp response in DER, and checks that the certificate in it made its signature. Whether that certificate is to be
 * trusted is not decided here: `openssl ts -verify` does that with the authority's root.
 *
 * Source: RFC 3161 (2001), sections 2.4.2; RFC 5652 (2009), sections 5.3 and 5.4. Bad bytes are told, not thrown.
 */
export function readTimeStampResponse(bytes: Uint8Array): TimeStampReading {
  try {
    return read(bytes);
  } catch (error) {
    return no(`it is no time stamp response in DER: ${(error as Error).message}`);
  }
}

function read(bytes: Uint8Array): TimeStampReading {
  const { status, timeStampToken: token } = AsnConvert.parse(bytes, TimeStampResp);
  if (status.status !== PKIStatus.granted && status.status !== PKIStatus.grantedWithMods) {
    const words = status.statusString === undefined ? "" : `: ${[...status.statusString].join("; ")}`;
    return no(`the authority did not grant it (status ${status.status})${words}`);
  }
  if (token === undefined || token.contentType !== id_signedData) return no("it holds no signed time stamp");
  const signed = AsnConvert.parse(token.content, SignedData);
  const { eContentType, eContent } = signed.encapContentInfo;
  const content = eContent?.single?.buffer ?? eContent?.any;
  if (eContentType !== id_ct_tstInfo || content === undefined)
    return no(`it signs content of type ${eContentType}; accepted is a time stamp, ${id_ct_tstInfo}`);
  const inner = eContent?.single === undefined ? AsnConvert.parse(content, OctetString).buffer : content;
  const info = AsnConvert.parse(inner, TSTInfo);
  const { algorithm } = info.messageImprint.hashAlgorithm;
  if (algorithm !== sha256Identifier)
    return no(`it stamps a hash by algorithm ${algorithm}; accepted is SHA-256, ${sha256Identifier}`);
  const [signer, another] = [...signed.signerInfos];
  if (signer === undefined || another !== undefined)
    return no(`it has ${signed.signerInfos.length} signatures; a time stamp has one`);
  const certificates = [...(signed.certificates ?? [])].flatMap(({ certificate }) =>
    certificate === undefined ? [] : [new X509Certificate(Buffer.from(AsnConvert.serialize(certificate)))],
  );
  if (certificates.length === 0)
    return no("it holds no certificate; ask for one, as the request that this program makes does");
  const made = signatureBy(signer, inner, certificates);
  if (typeof made === "string") return no(made);
  return {
    ok: true,
    stamp: {
      imprint: hex(info.messageImprint.hashedMessage.buffer),
      nonce: info.nonce === undefined ? null : hex(info.nonce).replace(/^(00)+(?=.)/, ""),
      time: info.genTime.toISOString(),
      policy: info.policy,
      serial: hex(info.serialNumber),
      authority: made.subject.replaceAll("\n", ", "),
    },
  };
}

/** The certificate that made the signature over the content, or what is wrong with it. */
function signatureBy(
  signer: SignerInfo,
  content: ArrayBuffer,
  certificates: readonly X509Certificate[],
): X509Certificate | string {
  const digest = digestNames[signer.digestAlgorithm.algorithm];
  if (digest === undefined)
    return `its digest ${signer.digestAlgorithm.algorithm} is not SHA-256, -384 or -512`;
  const stated = signer.signedAttrs?.find((one) => one.attrType === messageDigest)?.attrValues[0];
  if (stated === undefined) return "it signs no digest of its content";
  const found = createHash(digest).update(Buffer.from(content)).digest("hex");
  if (hex(AsnConvert.parse(stated, OctetString).buffer) !== found)
    return "its content was altered: it does not have the digest that was signed";
  const attributes = setOf((signer.signedAttrs ?? []).map((one) => Buffer.from(AsnConvert.serialize(one))));
  const signature = Buffer.from(signer.signature.buffer);
  const by = certificates.find((one) => {
    try {
      return createVerify(digest).update(attributes).verify(one.publicKey, signature);
    } catch {
      return false;
    }
  });
  return by ?? "its signature was not made by a certificate that it holds";
}

/** A SET in DER: attributes are signed in this form, although they stand in the token under another tag (RFC 5652, section 5.4). */
function setOf(items: readonly Buffer[]): Buffer {
  const content = Buffer.concat(items);
  const digits = content.length.toString(16);
  const length = Buffer.from(digits.padStart(digits.length + (digits.length % 2), "0"), "hex");
  const head = content.length < 128 ? [content.length] : [0x80 + length.length, ...length];
  return Buffer.concat([Buffer.from([0x31, ...head]), content]);
}
