// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/field_headings.h"

#include "core/inventory/valve_fields.h"

namespace keyround {

namespace {

ImportField field(const char *key, const char *label, const char *headings, bool required = false)
{
    return {QLatin1String(key), QLatin1String(label), required,
            QString(QLatin1String(headings)).split(QLatin1Char(' '))};
}

/// A valve's field keeps the key and label of the one list in inventory.
ImportField field(ValveField which, const char *headings, bool required = false)
{
    const ValveFieldInfo &info = infoOf(which);
    return field(info.key, info.label, headings, required);
}

QList<ImportField> placeFields()
{
    return {
        field("x", "X (easting)",
              "x xcoord easting xcoordinate coordx pointx xft xm east eastingft eastingm"),
        field("y", "Y (northing)",
              "y ycoord northing ycoordinate coordy pointy yft ym north northingft northingm"),
        field("lat", "Latitude", "lat latitude latdd gpslat latwgs84 latitudewgs84"),
        field("lon", "Longitude", "lon longitude long lng londd gpslon lonwgs84 longitudewgs84"),
    };
}

/// Adds what files call a size, whatever it is the size of.
ImportField withSizeHeadings(ImportField field)
{
    field.headings += QStringLiteral("size diameter diam dia sizein sizeinches diameterin diain "
                                     "nominalsize nomsize nomdia sizemm diametermm diamm dn sizedn")
                          .split(QLatin1Char(' '));
    return field;
}

} // namespace

QString plainHeading(const QString &heading)
{
    QString plain;
    plain.reserve(heading.size());
    for (const QChar c : heading) {
        if (c.isLetterOrNumber()) {
            plain += c.toLower();
        }
    }
    return plain;
}

QList<ImportField> valveImportFields()
{
    return QList<ImportField>{
               field(ValveField::Number,
                     "valvenumber valveno valveid valvenum vlvno vlvid vlvnum vno valve number no "
                     "num valvename valvetag tag tagno assetno assetnumber assetid id name",
                     true),
               field(ValveField::Address,
                     "address addr location streetaddress nearestaddress valveaddress loc"),
               field(ValveField::Ties, "ties tie measurements swingties tiemeasurements"),
               field(ValveField::DepthToNut,
                     "depthtonut nutdepth depth depthtonutft nutdepthft depthft depthtonutm "
                     "nutdepthm depthm depthtonutin nutdepthin depthin opnutdepth "
                     "depthtooperatingnut"),
               field(ValveField::Nut,
                     "nut nutsize operatingnut opnut opnutsize nuttype nutshape operatingnutsize"),
               field(ValveField::Lid, "lid lidsize coversize boxlid boxlidsize lidtype"),
               withSizeHeadings(field(ValveField::Size, "valvesize vlvsize")),
               field(ValveField::Type, "valvetype vlvtype type valvekind kind style valvestyle"),
               field(ValveField::ListedTurns,
                     "listedturns turns noofturns numturns numberofturns turncount noturns "
                     "turnstoclose fullturns expectedturns recordedturns"),
               field(ValveField::Closes,
                     "closes closedir closedirection closingdirection dirtoclose "
                     "directiontoclose dirclose closingdir rotation turndir "
                     "turndirection direction"),
               field(ValveField::Normally,
                     "normally normalposition normalpos normpos normalstate normalstatus "
                     "normstatus normstate nonc normal operatingposition position"),
               field(ValveField::Role,
                     "role valverole use usage valveuse function valvefunction purpose category"),
               field(ValveField::InstallYear,
                     "installyear yearinstalled instyear yearinst year installed installdate "
                     "dateinstalled installationdate instdate yearbuilt"),
               field(ValveField::Surface,
                     "surface surfacetype surfacematerial pavement cover groundcover covertype"),
               field(ValveField::Zone,
                     "zone pressurezone preszone pzone pressuredistrict pressurearea district"),
               field(ValveField::CriticalCustomers,
                     "criticalcustomers criticalcustomer criticalusers criticaluser keycustomers "
                     "keycustomer prioritycustomers critical"),
               field(ValveField::Remarks,
                     "remarks remark notes note comments comment memo description"),
               field(ValveField::Retired, "retired abandoned removed outofservice isretired"),
           } +
           placeFields();
}

QList<ImportField> streetImportFields()
{
    return {
        field("key", "Segment id",
              "osmid streetid segmentid segid roadid linkid segno segment id objectno"),
        field("name", "Name",
              "name streetname stname roadname fullname fullstreet fullstname street road label"),
        field("class", "Class",
              "class highway roadclass streetclass functionalclass functclass funcclass fclass "
              "hierarchy roadtype streettype type kind category"),
        field("one_way", "One-way",
              "oneway onewaydir onewaystreet traveldir traveldirection "
              "flowdir direction dir"),
        field("speed", "Speed",
              "speedlimit speed maxspeed speedlim speedmph speedlimitmph postedspeed mph speedkmh "
              "speedkph speedlimitkmh kmh kph"),
        field("lanes", "Lanes",
              "lanes numlanes numberoflanes lanecount nolanes numoflanes throughlanes lanesnum"),
        field("lane_width", "Lane width",
              "lanewidth lanewidthft lanewidthm lanewidthin widthoflanes avglanewidth"),
        field("divided", "Divided", "divided isdivided median dividedroad hasmedian mediantype"),
        field("access", "Access", "access drivable motorvehicle motoraccess vehicleaccess"),
    };
}

QList<ImportField> mainImportFields()
{
    return {
        field("number", "Main number",
              "mainnumber mainno mainid pipeid pipeno pipenumber main pipe number no num assetno "
              "assetid id name"),
        withSizeHeadings(field("size", "Size", "mainsize pipesize")),
        field("material", "Material", "material mat pipematerial mainmaterial"),
        field("install_year", "Install year",
              "installyear yearinstalled instyear yearinst year installed installdate "
              "dateinstalled instdate yearbuilt"),
        field("zone", "Pressure zone", "zone pressurezone preszone pzone pressurearea district"),
    };
}

QList<ImportField> hydrantImportFields()
{
    return QList<ImportField>{
               field("number", "Hydrant number",
                     "hydrantnumber hydrantno hydrantid hydno hydid hydrant number no num tag "
                     "assetno assetid id name",
                     true),
               field("address", "Address", "address addr location streetaddress nearestaddress"),
           } +
           placeFields();
}

QList<ImportField> serviceImportFields()
{
    return QList<ImportField>{
               field("number", "Service number",
                     "servicenumber serviceno serviceid svcno svcid service account accountno "
                     "accountnumber meter meterno meternumber number no num id name",
                     true),
               field("address", "Address", "address addr serviceaddress location streetaddress"),
               field("customer", "Customer", "customer customername occupant owner accountname"),
               field("phone", "Phone", "phone phonenumber telephone tel phoneno"),
               field("main", "Main number", "mainnumber mainno mainid main pipeid pipeno onmain"),
               field("critical", "Critical", "critical criticalcustomer iscritical priority"),
           } +
           placeFields();
}

QList<ImportField> sourceImportFields()
{
    return QList<ImportField>{
               field("number", "Source number",
                     "sourcenumber sourceno sourceid facilityid facilityno number no num tag "
                     "assetno assetid id name",
                     true),
               field("name", "Name", "name facilityname sourcename facility description"),
               field("kind", "Kind", "kind sourcekind sourcetype facilitytype type class"),
           } +
           placeFields();
}

QList<ImportField> visitImportFields()
{
    return {
        field("valve", "Valve number",
              "valvenumber valveno valveid valvenum vlvno vlvid vlvnum vno valve number no num "
              "tag assetno assetid id",
              true),
        field("date", "Date",
              "date visitdate arrived arrival datetime arrivedat visited dateofvisit dateoperated "
              "operated inspectiondate exercisedate exercised dateexercised when start started",
              true),
        field("time", "Time",
              "time arrivaltime timearrived arrivedtime timein starttime visittime"),
        field(
            "finished", "Finished",
            "finished finish end endtime timeleft lefttime timeout leftat timefinished finishtime "
            "departed"),
        field("crew", "Crew", "crew crewname team truck"),
        field("turns_closing", "Turns closing",
              "turnsclosing closingturns turnsclose turnstoclose closeturns turnsclosed turns "
              "turnsdown turncount noofturns numturns"),
        field("turns_opening", "Turns opening",
              "turnsopening openingturns turnsopen turnstoopen openturns turnsopened turnsup"),
        field("problems", "Problems",
              "problems problem problemcodes findings finding defects defect issues issue"),
        field("found", "Found", "found foundposition positionfound asfound foundas"),
        field("left", "Left", "left leftposition positionleft asleft leftas"),
        field("remarks", "Remarks", "remarks remark notes note comments comment memo"),
        field("who", "Who", "who recordedby operator by employee person enteredby inspector"),
    };
}

} // namespace keyround
