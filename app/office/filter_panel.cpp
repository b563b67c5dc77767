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
      m_lengths(new QButtonGroup(this)), m_span(wholeSpan(session))
{
    m_zones->setObjectName(QStringLiteral("zoneChoice"));
    m_sizes->setObjectName(QStringLiteral("sizeChoice"));
    m_types->setObjectName(QStringLiteral("typeChoice"));
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(6);
    column->addWidget(plainLabel(tr("Which valves"), QStringLiteral("heading")));
    for (ChoiceButton *choice : {m_zones, m_sizes, m_types}) {
        column->addWidget(choice);
        connect(choice, &ChoiceButton::changed, this, &FilterPanel::changed);
    }
    column->addSpacing(8);
    column->addWidget(plainLabel(tr("Which time"), QStringLiteral("heading")));
    buildSpan();
    column->addWidget(buildLengths());
    refresh();
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
    for (const Valve &valve : m_session.valves()) {
        zones.insert(valve.zone);
        sizes.insert(valve.size.quarterInches);
        types.insert(valve.type);
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
    if (!m_spanTyped) {
        setSpan(wholeSpan(m_session));
    }
}

void FilterPanel::forget()
{
    m_spanTyped = false;
    for (ChoiceButton *choice : {m_zones, m_sizes, m_types}) {
        choice->clear();
    }
}

} // namespace keyround
