export { listPorts as serialPorts, type PortDescription } from "../bench/list-ports.ts";
