/** The headers of every answer: everything comes from this machine, nothing is inline, nobody may frame it. */

const SELF = ["'self'"];
const DIRECTIVES: Readonly<Record<string, readonly string[]>> = {
  defaultSrc: ["'none'"],
  scriptSrc: SELF,
  styleSrc: SELF,
  imgSrc: SELF,
  fontSrc: SELF,
  connectSrc: SELF,
  manifestSrc: SELF,
  workerSrc: SELF,
  formAction: SELF,
  frameAncestors: ["'none'"],
  baseUri: ["'none'"],
};

/** The options of helmet, which puts the headers on what a route answers. */
export function headersOf(secure: boolean): object {
  return {
    contentSecurityPolicy: { useDefaults: false, directives: DIRECTIVES },
    // A laptop that goes back to plain HTTP must stay in reach of the phones that have counts for it.
    hsts: false,
    crossOriginOpenerPolicy: secure ? { policy: 'same-origin' } : false,
    originAgentCluster: secure,
    crossOriginEmbedderPolicy: false,
    crossOriginResourcePolicy: { policy: 'same-origin' },
    referrerPolicy: { policy: 'same-origin' },
    frameguard: { action: 'deny' },
    noSniff: true,
    dnsPrefetchControl: { allow: false },
    ieNoOpen: true,
    permittedCrossDomainPolicies: { permittedPolicies: 'none' },
    xssFilter: true,
    hidePoweredBy: true,
  };
}

/**
 * The same headers by name, for what is answered before any route is asked (an address that cannot be read, a request
 * that is no HTTP): helmet is not reached there.
 */
export function bareHeaders(secure: boolean): Record<string, string> {
  return {
    'content-security-policy': policyText(),
    'cross-origin-resource-policy': 'same-origin',
    'referrer-policy': 'same-origin',
    'x-frame-options': 'DENY',
    'x-content-type-options': 'nosniff',
    'x-dns-prefetch-control': 'off',
    'x-download-options': 'noopen',
    'x-permitted-cross-domain-policies': 'none',
    'x-xss-protection': '0',
    ...(secure ? { 'cross-origin-opener-policy': 'same-origin', 'origin-agent-cluster': '?1' } : {}),
  };
}

function policyText(): string {
  const dashed = (name: string): string => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  return Object.entries(DIRECTIVES)
    .map(([name, sources]) => `${dashed(name)} ${sources.join(' ')}`)
    .join(';');
}
