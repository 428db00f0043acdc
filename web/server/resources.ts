import type { RigView, ShotView, SpecimenView, StartShot, TraceView } from "../../src/contract/http.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import { request } from "./request.ts";

const segment = encodeURIComponent;

/** Addresses of what can be read. */
export const addresses = {
  lab: "/api/lab",
  specimens: "/api/specimens",
  specimen: (id: string) => `/api/specimens/${segment(id)}`,
  /** Without a limit set, the server chooses the one that suits the specimen. */
  programme: (specimen: string, limitSet: string | null) =>
    `/api/specimens/${segment(specimen)}/programme${limitSet === null ? "" : `?limitSet=${segment(limitSet)}`}`,
  shots: "/api/shots",
  shotsOf: (specimen: string) => `/api/shots?specimen=${segment(specimen)}`,
  shot: (id: string) => `/api/shots/${segment(id)}`,
  trace: (id: string, points: number) => `/api/shots/${segment(id)}/trace?points=${points}`,
  limitSets: "/api/limits",
  limitSet: (id: string) => `/api/limits/${segment(id)}`,
  links: "/api/rig/links",
  breakers: "/api/rig/breakers",
} as const;

export const getShot = (id: string) => request<ShotView>("GET", addresses.shot(id));
export const getTrace = (id: string, points: number) =>
  request<TraceView>("GET", addresses.trace(id, points));

export const receiveSpecimen = (details: Specimen) =>
  request<SpecimenView>("POST", addresses.specimens, details);
export const moveHandle = (specimen: string, operations: number, note: string) =>
  request<SpecimenView>("POST", `${addresses.specimen(specimen)}/handle`, { operations, note });
export const startShot = (shot: StartShot) => request<{ shot: string }>("POST", addresses.shots, shot);
export const connectRig = (address: string) => request<RigView>("POST", "/api/rig/connect", { address });
export const clearFault = () => request<RigView>("POST", "/api/rig/clear");
/** Current off and disarm, in any state. */
export const stopCurrent = () => request<unknown>("POST", "/api/stop");
