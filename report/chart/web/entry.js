// What the report's figures use of the charting library, and nothing else.
import * as core from "echarts/core";
import { BarChart, CustomChart, LineChart, ScatterChart } from "echarts/charts";
import {
  AriaComponent, GraphicComponent, GridComponent, LegendComponent,
  MarkAreaComponent, MarkLineComponent, TitleComponent, TooltipComponent,
} from "echarts/components";
import { LabelLayout } from "echarts/features";
import { CanvasRenderer, SVGRenderer } from "echarts/renderers";

core.use([
  BarChart, CustomChart, LineChart, ScatterChart,
  AriaComponent, GraphicComponent, GridComponent, LegendComponent,
  MarkAreaComponent, MarkLineComponent, TitleComponent, TooltipComponent,
  LabelLayout, CanvasRenderer, SVGRenderer,
]);

globalThis.echarts = core;
