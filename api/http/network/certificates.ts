import 'reflect-metadata';
import { createHash, randomBytes, webcrypto } from 'node:crypto';
import { isIPv4, isIPv6 } from 'node:net';
import * as x509 from '@peculiar/x509';
import { readAddressBytes } from './address-bytes.ts';

// X.509 as RFC 5280 has it. The authority may vouch for private addresses and local names only: whoever gets hold of its key can still
// not pretend to be a bank to a telephone that trusts it.

/** A certificate with its private key, both PEM. */
export interface Identity {
  readonly certificatePem: string;
  readonly keyPem: string;
}

/** What a server is asked for as. */
export interface ServerNames {
  readonly names: readonly string[];
  readonly addresses: readonly string[];
}

const DAY_MS = 86_400_000;
export const CERTIFICATE_DAYS = {
  /** about ten years: every device has to be told anew after it */
  authority: 3650,
  /** browsers refuse certificates of more than 398 days, and of more than 825 under an authority a person added (from memory) */
  server: 90,
  /** a certificate with less left than this is renewed */
  renew: 30,
  /** clocks in a shop are not all right */
  early: 2,
} as const;

/** Networks that are nobody's on the Internet: RFC 1918, RFC 3927, RFC 4193, RFC 4291 and loopback. */
const PRIVATE_NETWORKS: readonly (readonly [address: string, bits: number])[] = [
  ['10.0.0.0', 8], ['172.16.0.0', 12], ['192.168.0.0', 16], ['169.254.0.0', 16], ['127.0.0.0', 8], ['fc00::', 7], ['fe80::', 10], ['::1', 128],
];
/** Names that are nobody's on the Internet: RFC 6761, RFC 6762, RFC 8375, and what many routers hand out. */
const LOCAL_DOMAINS = ['localhost', 'local', 'home.arpa', 'internal', 'lan'] as const;

const ALGORITHM = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const;

/** Whether an address belongs to a network of one's own. */
export function isPrivateAddress(address: string): boolean {
  const bytes = readAddressBytes(address);
  return PRIVATE_NETWORKS.some(([network, bits]) => {
    const base = readAddressBytes(network);
    return base.length === bytes.length && base.every((byte, index) => {
      const mask = maskByte(bits, index);
      return (byte & mask) === (bytes[index]! & mask);
    });
  });
}

/** A new authority that may vouch for local names and private addresses, and for `hostName`. */
export async function makeAuthority(hostName: string, now: Date): Promise<Identity> {
  const keys = await makeKeys();
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    serialNumber: makeSerial(),
    // A part of the key's own hash tells two authorities of one machine apart in a list of trusted ones.
    name: [{ CN: [`lugwright on ${hostName} (${randomBytes(3).toString('hex')})`] }, { O: ['lugwright'] }],
    notBefore: addDays(now, -CERTIFICATE_DAYS.early), notAfter: addDays(now, CERTIFICATE_DAYS.authority),
    keys, signingAlgorithm: ALGORITHM,
    extensions: [
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      constrainNames([...LOCAL_DOMAINS, hostName]),
    ],
  });
  return writeIdentity(certificate, keys);
}

/** A server's certificate under the authority. @throws where a name or an address is not the authority's to vouch for. */
export async function makeServerIdentity(authority: Identity, { names, addresses }: ServerNames, now: Date): Promise<Identity> {
  const stranger = addresses.find((address) => !isPrivateAddress(address));
  if (stranger !== undefined) throw new Error(`${stranger} is no private address`);
  const keys = await makeKeys();
  const issuer = new x509.X509Certificate(authority.certificatePem);
  const signingKey = await webcrypto.subtle.importKey('pkcs8', x509.PemConverter.decodeFirst(authority.keyPem), ALGORITHM, false, ['sign']);
  const certificate = await x509.X509CertificateGenerator.create({
    serialNumber: makeSerial(), issuer: issuer.subject, subject: [{ CN: [names[0] ?? addresses[0] ?? 'localhost'] }, { O: ['lugwright'] }],
    notBefore: addDays(now, -CERTIFICATE_DAYS.early), notAfter: addDays(now, CERTIFICATE_DAYS.server),
    publicKey: keys.publicKey, signingKey, signingAlgorithm: ALGORITHM,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(issuer),
      new x509.SubjectAlternativeNameExtension([
        ...names.map((value) => ({ type: 'dns' as const, value })), ...addresses.map((value) => ({ type: 'ip' as const, value })),
      ]),
    ],
  });
  return writeIdentity(certificate, keys);
}

export interface CertificateFacts {
  readonly notAfter: Date;
  readonly names: readonly string[];
  readonly addresses: readonly string[];
  /** SHA-256 of the certificate, as devices show it: `AB:CD:…` */
  readonly fingerprint: string;
  readonly issuer: string;
  readonly subject: string;
}

/** What a PEM certificate says. @throws where it is none. */
export function readCertificate(certificatePem: string): CertificateFacts {
  const certificate = new x509.X509Certificate(certificatePem);
  const names = certificate.getExtension(x509.SubjectAlternativeNameExtension)?.names.items ?? [];
  return {
    notAfter: certificate.notAfter, issuer: certificate.issuer, subject: certificate.subject,
    names: names.filter((name) => name.type === 'dns').map((name) => name.value),
    addresses: names.filter((name) => name.type === 'ip').map((name) => name.value),
    fingerprint: writeFingerprint(certificate.rawData),
  };
}

/** A PEM certificate as its bytes, DER. */
export function writeDer(certificatePem: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(x509.PemConverter.decodeFirst(certificatePem));
}

/** Whether less than `CERTIFICATE_DAYS.renew` days are left. */
export function isEnding({ notAfter }: CertificateFacts, now: Date): boolean {
  return notAfter.getTime() - now.getTime() < CERTIFICATE_DAYS.renew * DAY_MS;
}

function writeFingerprint(der: ArrayBuffer): string {
  return createHash('sha256').update(new Uint8Array(der)).digest('hex').toUpperCase().replace(/(..)(?=.)/g, '$1:');
}

function makeKeys(): Promise<webcrypto.CryptoKeyPair> {
  return webcrypto.subtle.generateKey(ALGORITHM, true, ['sign', 'verify']);
}

async function writeIdentity(certificate: x509.X509Certificate, keys: webcrypto.CryptoKeyPair): Promise<Identity> {
  const key = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
  return { certificatePem: `${certificate.toString('pem')}\n`, keyPem: `${x509.PemConverter.encode(key, 'PRIVATE KEY')}\n` };
}

/** 16 random bytes, a positive number without a leading nought: RFC 5280 4.1.2.2. */
function makeSerial(): string {
  const bytes = randomBytes(16);
  bytes[0] = (bytes[0]! & 0x7f) | 0x40;
  return bytes.toString('hex');
}

function addDays(from: Date, days: number): Date {
  return new Date(from.getTime() + days * DAY_MS);
}

/** The library has no class for this extension, RFC 5280 4.2.1.10: its few bytes are written here. */
function constrainNames(domains: readonly string[]): x509.Extension {
  const subtrees = [
    ...[...new Set(domains)].map((domain) => writeElement(0x82, Buffer.from(domain, 'ascii'))),
    ...PRIVATE_NETWORKS.map(([address, bits]) => {
      const bytes = readAddressBytes(address);
      return writeElement(0x87, Buffer.from([...bytes, ...bytes.map((_, index) => maskByte(bits, index))]));
    }),
  ].map((name) => writeElement(0x30, name));
  const value = writeElement(0x30, writeElement(0xa0, Buffer.concat(subtrees)));
  return new x509.Extension('2.5.29.30', true, Uint8Array.from(value));
}

/** One element of DER: its tag, its length, its bytes. */
function writeElement(tag: number, bytes: Uint8Array): Buffer {
  const { length } = bytes;
  const size = length < 0x80 ? [length] : length < 0x100 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return Buffer.concat([Buffer.from([tag, ...size]), bytes]);
}

function maskByte(bits: number, index: number): number {
  const here = Math.min(8, Math.max(0, bits - index * 8));
  return (0xff << (8 - here)) & 0xff;
}

/** Whether the text is an address and no name. */
export function isAddress(text: string): boolean {
  return isIPv4(text) || isIPv6(text);
}
