// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/batch/console.h"

namespace keyround::batch {

namespace {

void describe(QCommandLineParser &parser)
{
    parser.setApplicationDescription(QObject::tr("create: makes an empty project file."));
    parser.addPositionalArgument(QStringLiteral("FILE"), QObject::tr("NAME.keyround to make"));
    parser.addOption({QStringLiteral("units"), QObject::tr("units on screen and paper"),
                      QStringLiteral("us|metric"), QStringLiteral("us")});
    parser.addOption({QStringLiteral("utility"), QObject::tr("the utility's name, for sheets"),
                      QStringLiteral("NAME")});
    parser.addOption({QStringLiteral("yard"), QObject::tr("where rounds start and finish"),
                      QStringLiteral("LAT,LON")});
}

} // namespace

Done runCreate(const QStringList &arguments)
{
    QCommandLineParser parser;
    describe(parser);
    if (auto parsed = parse(parser, QStringLiteral("create"), arguments, 1); !parsed) {
        return tl::unexpected(parsed.error());
    }
    const QString path = parser.positionalArguments().value(0);
    const QString units = parser.value(QStringLiteral("units"));
    if (path.isEmpty()) {
        return wrongUse(QObject::tr("say which file to make: create NAME.keyround"));
    }
    if (!path.endsWith(QStringLiteral(".keyround"), Qt::CaseInsensitive)) {
        return wrongUse(
            QObject::tr("a project's name ends in .keyround: create %1.keyround").arg(path));
    }
    if (units != QStringLiteral("us") && units != QStringLiteral("metric")) {
        return wrongUse(QObject::tr("--units takes us or metric, not \"%1\"").arg(units));
    }
    std::optional<GeoPoint> yard;
    if (parser.isSet(QStringLiteral("yard"))) {
        const auto place =
            placeFrom(parser.value(QStringLiteral("yard")), QStringLiteral("--yard"));
        if (!place) {
            return tl::unexpected(place.error());
        }
        yard = *place;
    }
    Session session;
    const auto system = units == QStringLiteral("metric") ? UnitSystem::Metric : UnitSystem::Us;
    if (const Status made = session.createProject(path, system); !made) {
        return failed(made.error());
    }
    ProjectSettings settings = session.settings();
    settings.utility = parser.value(QStringLiteral("utility"));
    settings.yard = yard;
    if (const Status saved = session.project().settings().save(settings); !saved) {
        return failed(saved.error());
    }
    say(QObject::tr("Made %1").arg(path));
    return exitDone;
}

} // namespace keyround::batch
