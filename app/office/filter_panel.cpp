// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/office/filter_panel.h"

#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/office/answers.h"
#include "app/office/choice_button.h"
#include "app/shell/session.h"

#include <QButtonGroup>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <map>
#include <set>

namespace keyround {

namespace {

Result<QDate> dateTyped(const QString &text)
{
    const QDate date = QDate::fromString(text.trimmed(), Qt::ISODate);
    if (!date.isValid()) {
        return fail(ErrorCode::BadInput,
                    FilterPanel::tr("\"%1\" is no date. Type it as 2026-03-16.").arg(text));
    }
    return date;
}

/// Level with the text of the line beside it, also while a refusal stands below that line.
QLabel *lineLabel(const QString &words)
{
    QLabel *label = plainLabel(words);
    label->setContentsMargins(0, 7, 0, 0);
    return label;
}

} // namespace

FilterPanel::FilterPanel(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_zones(new ChoiceButton(tr("Zone"), this)),
      m_sizes(new ChoiceButton(tr("Size"), this)), m_types(new ChoiceButton(tr("Type"), this)),
      m_roles(new ChoiceButton(tr("Role"), this)),
      m_surfaces(new ChoiceButton(tr("Surface"), this)), m_lengths(new QButtonGroup(this)),
      m_span(wholeSpan(session))
{
    m_zones->setObjectName(QStringLiteral("zoneChoice"));
    m_sizes->setObjectName(QStringLiteral("sizeChoice"));
    m_types->setObjectName(QStringLiteral("typeChoice"));
    m_roles->setObjectName(QStringLiteral("roleChoice"));
    m_surfaces->setObjectName(QStringLiteral("surfaceChoice"));
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(5);
    column->addWidget(plainLabel(tr("Which valves"), QStringLiteral("heading")));
    auto *grid = new QGridLayout;
    grid->setSpacing(5);
    grid->addWidget(m_zones, 0, 0, 1, 2);
    grid->addWidget(m_sizes, 1, 0);
    grid->addWidget(m_types, 1, 1);
    grid->addWidget(m_roles, 2, 0);
    grid->addWidget(m_surfaces, 2, 1);
    column->addLayout(grid);
    for (ChoiceButton *choice : choices()) {
        connect(choice, &ChoiceButton::changed, this, &FilterPanel::changed);
    }
    column->addWidget(buildInstalled());
    column->addSpacing(8);
    column->addWidget(plainLabel(tr("Which time"), QStringLiteral("heading")));
    buildSpan();
    column->addWidget(buildLengths());
    refresh();
}

QList<ChoiceButton *> FilterPanel::choices() const
{
    return {m_zones, m_sizes, m_types, m_roles, m_surfaces};
}

QWidget *FilterPanel::buildInstalled()
{
    auto *box = new QWidget(this);
    m_installedFrom = new CheckedLine(
        tr("Installed from year"),
        [this](const QString &text) { return takeInstalled(text, true); }, box);
    m_installedTo = new CheckedLine(
        tr("Installed to year"), [this](const QString &text) { return takeInstalled(text, false); },
        box);
    m_installedFrom->line()->setObjectName(QStringLiteral("installedFrom"));
    m_installedTo->line()->setObjectName(QStringLiteral("installedTo"));
    m_installedFrom->line()->setPlaceholderText(tr("any"));
    m_installedTo->line()->setPlaceholderText(tr("any"));
    QLabel *refusal = plainLabel({}, QStringLiteral("refusal"), box);
    refusal->hide();
    m_installedFrom->showRefusalsIn(refusal);
    m_installedTo->showRefusalsIn(refusal);
    auto *grid = new QGridLayout(box);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->setHorizontalSpacing(4);
    grid->addWidget(plainCaption(tr("Installed")), 0, 0);
    grid->addWidget(m_installedFrom, 0, 1);
    grid->addWidget(plainCaption(tr("to")), 0, 2);
    grid->addWidget(m_installedTo, 0, 3);
    grid->addWidget(refusal, 1, 0, 1, 4);
    return box;
}

Status FilterPanel::takeInstalled(const QString &text, bool isFrom)
{
    std::optional<int> year;
    if (!text.trimmed().isEmpty()) {
        bool isNumber = false;
        year = text.trimmed().toInt(&isNumber);
        if (!isNumber || *year < 1800 || *year > 2200) {
            return fail(ErrorCode::BadInput,
                        tr("\"%1\" is no year. Type it as 1965, or leave it empty.").arg(text));
        }
    }
    const std::optional<int> first = isFrom ? year : m_firstYear;
    const std::optional<int> last = isFrom ? m_lastYear : year;
    if (first && last && *last < *first) {
        return fail(ErrorCode::BadInput,
                    tr("The years would end (%1) before they begin (%2).").arg(*last).arg(*first));
    }
    m_firstYear = first;
    m_lastYear = last;
    (isFrom ? m_installedFrom : m_installedTo)
        ->setStored(year ? QString::number(*year) : QString());
    Q_EMIT changed();
    return {};
}

void FilterPanel::buildSpan()
{
    const auto take = [this](const QString &text, bool isFrom) -> Status {
        const Result<QDate> date = dateTyped(text);
        if (!date) {
            return tl::unexpected(date.error());
        }
        Span span = m_span;
        (isFrom ? span.from : span.to) = *date;
        if (span.to < span.from) {
            return fail(ErrorCode::BadInput,
                        tr("The span would end (%1) before it begins (%2).")
                            .arg(span.to.toString(Qt::ISODate), span.from.toString(Qt::ISODate)));
        }
        m_spanTyped = true;
        m_span = span;
        (isFrom ? m_from : m_to)->setStored(date->toString(Qt::ISODate));
        Q_EMIT changed();
        return {};
    };
    m_from = new CheckedLine(
        tr("From"), [take](const QString &text) { return take(text, true); }, this);
    m_to = new CheckedLine(
        tr("To"), [take](const QString &text) { return take(text, false); }, this);
    m_from->line()->setObjectName(QStringLiteral("spanFrom"));
    m_to->line()->setObjectName(QStringLiteral("spanTo"));
    auto *grid = new QGridLayout;
    grid->setColumnStretch(1, 1);
    grid->addWidget(lineLabel(tr("From")), 0, 0, Qt::AlignTop);
    grid->addWidget(m_from, 0, 1);
    grid->addWidget(lineLabel(tr("To")), 1, 0, Qt::AlignTop);
    grid->addWidget(m_to, 1, 1);
    auto *spans = new QHBoxLayout;
    const auto offer = [&](const QString &words, auto makeSpan) {
        auto *button = new QPushButton(words, this);
        button->setProperty("role", QStringLiteral("small"));
        connect(button, &QPushButton::clicked, this, [this, makeSpan] {
            m_spanTyped = true;
            setSpan(makeSpan());
            Q_EMIT changed();
        });
        spans->addWidget(button);
    };
    offer(tr("All"), [this] { return wholeSpan(m_session); });
    offer(tr("12 months"), [this] {
        const QDate today = m_session.today();
        return Span{today.addYears(-1).addDays(1), today};
    });
    auto *column = static_cast<QVBoxLayout *>(layout());
    column->addLayout(grid);
    column->addLayout(spans);
}

QWidget *FilterPanel::buildLengths()
{
    auto *box = new QWidget(this);
    auto *row = new QHBoxLayout(box);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(4);
    row->addWidget(plainLabel(tr("By")));
    const QStringList words{tr("month"), tr("quarter"), tr("year")};
    for (int i = 0; i < words.size(); ++i) {
        auto *button = new QPushButton(words[i], box);
        button->setCheckable(true);
        button->setChecked(i == 0);
        button->setProperty("role", QStringLiteral("small"));
        button->setAccessibleName(tr("By %1").arg(words[i]));
        m_lengths->addButton(button, i);
        row->addWidget(button, 1);
    }
    connect(m_lengths, &QButtonGroup::idClicked, this, &FilterPanel::changed);
    return box;
}

void FilterPanel::setSpan(const Span &span)
{
    m_span = span;
    m_from->reset(span.from.toString(Qt::ISODate));
    m_to->reset(span.to.toString(Qt::ISODate));
}

ValveFilter FilterPanel::filter() const
{
    ValveFilter filter;
    for (const QVariant &zone : m_zones->chosen()) {
        filter.zones << zone.toString();
    }
    for (const QVariant &size : m_sizes->chosen()) {
        filter.sizes << NominalSize{size.toInt()};
    }
    for (const QVariant &type : m_types->chosen()) {
        filter.types << static_cast<ValveType>(type.toInt());
    }
    for (const QVariant &role : m_roles->chosen()) {
        filter.roles << static_cast<ValveRole>(role.toInt());
    }
    for (const QVariant &surface : m_surfaces->chosen()) {
        filter.surfaces << surface.toString();
    }
    filter.installedFrom = m_firstYear;
    filter.installedTo = m_lastYear;
    return filter;
}

Span FilterPanel::span() const
{
    return m_span;
}

PeriodLength FilterPanel::length() const
{
    return static_cast<PeriodLength>(m_lengths->checkedId());
}

void FilterPanel::refresh()
{
    std::set<QString> zones;
    std::set<int> sizes;
    std::set<ValveType> types;
    std::set<ValveRole> roles;
    std::map<QString, QString> surfaces; // one for each spelling of case
    for (const Valve &valve : m_session.valves()) {
        zones.insert(valve.zone);
        sizes.insert(valve.size.quarterInches);
        types.insert(valve.type);
        roles.insert(valve.role);
        surfaces.try_emplace(valve.surface.toLower(), valve.surface);
    }
    QList<ChoiceButton::Option> options;
    for (const QString &zone : zones) {
        options.append({zone.isEmpty() ? tr("no zone") : zone, zone});
    }
    m_zones->setOptions(options);
    options.clear();
    for (const int size : sizes) {
        const QString words = sizeText(NominalSize{size}, m_session.units());
        options.append({words.isEmpty() ? tr("not known") : words, size});
    }
    m_sizes->setOptions(options);
    options.clear();
    for (const ValveType type : types) {
        options.append({wordFor(type), static_cast<int>(type)});
    }
    m_types->setOptions(options);
    options.clear();
    for (const ValveRole role : roles) {
        options.append({wordFor(role), static_cast<int>(role)});
    }
    m_roles->setOptions(options);
    options.clear();
    for (const auto &[key, surface] : surfaces) {
        options.append({surface.isEmpty() ? tr("not known") : surface, surface});
    }
    m_surfaces->setOptions(options);
    if (!m_spanTyped) {
        setSpan(wholeSpan(m_session));
    }
}

void FilterPanel::forget()
{
    m_spanTyped = false;
    m_firstYear.reset();
    m_lastYear.reset();
    m_installedFrom->reset({});
    m_installedTo->reset({});
    for (ChoiceButton *choice : choices()) {
        choice->clear();
    }
}

} // namespace keyround
